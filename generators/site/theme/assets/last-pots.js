/* What the last pots of a paint say against its handbook. Twin of chain/last.py, over the same declared chain (assets/day/last.js).
   Pure but for `line`, which a page asks; Node loads it after chain.js. */
(function (root) {
  "use strict";
  /* A page brings the chain only when something is asked of it. */
  const every = (names, from) => Object.fromEntries(Object.entries(names).map(([name, unit]) => [name, root.almanacWalk.brought(from[name], name, unit)]));
  /* The last pots of one paint, oldest first: { first, after, dose, cup } each. A pot whose timings say nothing does not count. */
  const work = (fields, pots, declared, formulas) => {
    const walked = (some) => root.almanacWalk.walk(declared, formulas, every(declared.fields, fields), { pots: some }, declared.studies), parts = pots.map((pot) => every(declared.pot, pot));
    const seen = walked(parts).parts.pots;
    return walked(parts.filter((part, place) => Number.isFinite(seen[place].seen.likely)).slice(-declared.last));
  };
  const whole = (value) => Math.floor(Math.abs(value) + 0.5), share = (value) => `${whole(value)} % ${value < 0 ? "less" : "more"}`;
  /* The line about them; empty where no pot was timed. */
  const said = (name, out) => {
    const count = out.held.count.likely, [low, likely, high] = ["more-low", "more", "more-high"].map((end) => out.held[end].likely);
    if (!count) return "";
    if (!Number.isFinite(out.held.told.likely)) return `The handbook has no timing of ${name} to hold your pots against.`;
    if (count < 3) return `${count} of your pots of ${name} ${count === 1 ? "was" : "were"} timed before and after thinner: three are needed to say how it thins.`;
    if (Number.isNaN(likely)) return `Your last ${count} pots of ${name} say nothing yet: ${out.held.half.why || out.held.more.why}.`;
    const [near, far] = Math.abs(low) <= Math.abs(high) ? [low, high] : [high, low];
    const ends = low * high <= 0 ? `nine chances in ten: ${share(low)} to ${share(high)}` : `nine chances in ten: ${whole(near)} to ${share(far)}`;
    return low <= 0 && high >= 0 ? `Your last ${count} pots of ${name} took as much thinner as the handbook says (${ends}).` : `Your last ${count} pots of ${name} took ${share(likely)} thinner than the handbook says (${ends}).`;
  };
  /* Pots of one log; looked up again only after something was typed into it, since a device may hold a thousand logs and each key asks. */
  const known = new WeakMap();
  const ofLog = (pages, read) => {
    const was = known.get(pages), { size } = pages.edits;
    if (was && was.size === size) return was.found;
    const found = [], cup = pages.text("", "cup"), lines = pages.rows("pots").filter((line) => !line.gone), cells = lines.length ? pages.fields() : [];
    for (const { row } of lines) {
      const mine = cells.filter((one) => one.row === row && one.text), figure = (name, unit) => { const one = mine.find(({ field }) => field === name); return one ? read(one.text, one.unit || unit) : NaN; };
      found.push({ when: mine.map((one) => one.edit.when).sort()[0], rec: pages.rec, row, first: figure("first-seconds", "s"), after: figure("dose-seconds", "s"), dose: figure("dose", "%"), cup });
    }
    known.set(pages, { size, found });
    return found;
  };
  /* Pots of one paint out of all logs of this device, oldest first: by when a line was last typed into, then by the names of record and line. `read(text, unit)` gives a number. */
  const pots = (logs, coating, read) => {
    const found = logs.filter((pages) => pages.text("", "coating") === coating).flatMap((pages) => ofLog(pages, read));
    const order = (a, b) => (a < b ? -1 : a > b ? 1 : 0);
    return found.sort((a, b) => order(a.when, b.when) || order(a.rec, b.rec) || order(a.row, b.row));
  };
  /* What a handbook's facts say of a paint's thinning: its measured steepness, else its sheet's two timings. */
  const fields = (coating, sheet) => {
    const told = coating["coating.steepness"] ? coating["coating.steepness"][0] : null, steepness = Array.isArray(told) ? told[1] : told, of = { band: "90", steepness };
    if ((sheet || []).length > 1) [[, of["sheet-first"], of["sheet-first-cup"]], [of["sheet-dose"], of["sheet-after"], of["sheet-after-cup"]]] = sheet;
    return of;
  };

  /* The line of a paint on a page: out of this device's logs, by this copy's facts. Empty where no log holds a pot, and for a paint that a hard stop is on. */
  const line = (coating) => {
    const keeper = root.almanacKeeper, ask = root.almanacDayAnswers, situation = { words: { coating } };
    return keeper.load("log").then(() => {
      const logs = [...keeper.journal.records.values()].filter((pages) => pages.kind === "log" && !pages.gone("*"));
      if (!logs.some((pages) => pages.rows("pots").length)) return "";
      return ask.ready(situation).then(() => root.almanacBring("grammar.js", "typed.js", "day/last.js")).then(() => {
        const facts = root.almanacDayFacts, paint = facts.coatings[coating];
        const read = (typed, unit) => { const { value } = root.almanacTyped.read(typed, unit); return value === null ? NaN : value; };
        return paint && paint["coating.stop"][0] === "none" ? said(facts.names.coatings[coating][0], work(fields(paint, facts.sheets[coating]), pots(logs, coating, read), root.almanacLast, root.almanacLastFormulas)) : "";
      });
    });
  };

  root.almanacLastPots = { work, said, pots, fields, line };
})(typeof window === "undefined" ? globalThis : window);
