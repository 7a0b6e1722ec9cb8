/* One situation answered on this device: fetches the kit's and the paint's own small files, walks the day's chain, and says figures as they are printed.
   Nothing is worked here but rounding to the side and step that the handbook declares for each answer. */
(() => {
  "use strict";
  const here = document.currentScript.src, base = (address) => new URL(address, here).href;
  const load = window.almanacBring;
  const day = () => window.almanacDay, facts = () => window.almanacDayFacts;
  /* The chain itself, where a page did not bring it. */
  const chain = () => (day() && facts() && window.almanacDayFormulas && window.almanacToday ? Promise.resolve()
    : load("chain.js", "day/chain.js", "day/formulas.js", "day/facts.js", "today.js"));
  /* Kit and paint of a situation; a name that is in no file here counts as not known. */
  const own = ({ words }) => ([words.kit, words.coating].some((slug) => (slug || "").startsWith("own-")) ? things() : null);
  /* Own kits and paints, out of this device's records: only where one is in hand, or a list is shown. */
  const things = () => (window.almanacOwnThings ? Promise.resolve() : load("own-things.js")).then(() => window.almanacOwnThings.ready());
  const ready = (situation) => chain().then(() => own(situation)).then(() => Promise.all([["kits", situation.words.kit], ["coatings", situation.words.coating]].map(([sort, slug]) => {
    if (!slug) return null;
    if (!(slug in facts().names[sort])) { delete situation.words[sort === "kits" ? "kit" : "coating"]; return null; }
    return facts()[sort][slug] ? null : load(`day/${sort}/${slug}.js`);
  })));
  const work = (situation, system) => window.almanacToday.answers(day(), window.almanacDayFormulas, facts(), situation, system);

  const HAIR = 1e-9;
  const rounded = (value, side, step) => {
    const steps = value / step, hair = HAIR * Math.max(1, Math.abs(steps)), floor = Math.floor(steps);
    if (side === "down") return Math.floor(steps + hair) * step;
    if (side === "up") return Math.ceil(steps - hair) * step;
    const rest = steps - floor; // a half goes to the even step, as in print
    return (rest < 0.5 || (rest === 0.5 && floor % 2 === 0) ? floor : floor + 1) * step;
  };
  const bare = (unit) => (unit === "1" ? "" : unit.replace("Δ", ""));
  /* "185 mm": an answer's figure on its step, to its safe side; empty where it has none. */
  const printed = (name, answer, system) => {
    if (answer.value === undefined || typeof answer.value === "string") return answer.value || "";
    const [unit, side, step, scale, offset] = day().answers.find((one) => one.name === name).printed[system];
    const places = (step.toFixed(9).replace(/0+$/, "").split(".")[1] || "").length;
    const figure = (rounded(answer.value * scale + offset, side, step) + 0).toFixed(places).replace("-", "−");
    return `${figure === "−0" ? "0" : figure} ${bare(unit)}`.trim();
  };
  const NAMES = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"];
  /* Minutes after midnight as a clock: "14:30", "Fri 14:30" on another day, with its date where it is more than a week off. */
  const clock = (minutes, from) => {
    const when = new Date(Date.parse(`${from}T00:00:00Z`) + Math.round(minutes) * 60000), days = Math.floor(Math.round(minutes) / 1440);
    const hour = when.toISOString().slice(11, 16);
    return days === 0 ? hour : `${NAMES[when.getUTCDay()]} ${Math.abs(days) > 6 ? when.toISOString().slice(5, 10).split("-").reverse().join(".") + " " : ""}${hour}`;
  };
  /* The one reading that would settle an answer that is not known: [name, whether it was read too long ago], or null. What says whether a
     question is to be asked at all comes before the question: the old finish before lead, the place before wind. */
  const settles = (answer, worked) => {
    const told = day().answers.find((one) => one.name === answer), names = Object.keys(day().readings), held = worked.out.held, found = new Map();
    const first = (list) => names.find((name) => list.includes(name));
    for (const verdict of told.verdicts) {
      for (const one of worked.out.verdicts[verdict].speaking) {
        if (one.code !== 2) continue;
        const name = first(one.test.when.map(([name]) => name).filter((name) => held[name] && held[name].text === null)) || first(one.missing);
        if (name) found.set(name, one.stale.includes(name));
      }
    }
    const shows = first([...found.keys()]) || first(held[told.shows].missing);
    return shows ? [shows, Boolean(found.get(shows))] : null;
  };

  /* Why: the readings and facts that an answer rests on, each step with its figures, and each reason. Rows of {what, is, from, formula}. */
  const why = (name, worked, situation, system) => {
    const told = day().answers.find((one) => one.name === name), held = worked.out.held, rows = { known: [], steps: [], said: [] };
    const said = (one, unit) => {
      if (!one || (one.words ? one.text === null : Number.isNaN(one.likely))) return null;
      if (one.words) return one.text;
      const figure = (value) => (unit === "min-of-day" ? clock(value, situation.day) : window.almanacToday.figure(day(), value, unit || "1", system));
      return one.low === one.high || !Number.isFinite(one.low + one.high) ? figure(one.likely) : `${figure(one.likely)} (${figure(one.low)} to ${figure(one.high)})`;
    };
    const origin = (one) => {
      const f = facts(), w = situation.words, places = [f.limits, f.regions[w.region || f.region], (f.kits[w.kit] || {}), (f.coatings[w.coating] || {}), f.shapes[w.shape || ""] || {}];
      const found = places.find((place) => place && one in place);
      return found ? [found[one][1], found[one][2]].filter(Boolean).join(", ") : "";
    };
    const unitOf = (one) => ((day().readings[one] || {}).kind === "time" ? "min-of-day" : day().units[one] || (day().readings[one] || {}).unit);
    for (const one of told.rests) {
      const is = said(held[one], unitOf(one));
      if (is !== null && !(one in day().readings && !(one in situation.texts))) rows.known.push({ what: one, is, from: one in day().readings ? "read here" : origin(one), shared: !(one in day().readings) });
    }
    const seen = new Set(), links = new Map();
    const flat = (list) => { for (const link of list) if (link.is === "each") flat(link.links); else links.set(link.name, link); };
    flat(day().links);
    const visit = (one) => {
      if (typeof one !== "string" || seen.has(one) || !links.has(one)) return;
      seen.add(one);
      const link = links.get(one), names = link.is === "step" ? Object.values(link.inputs).flatMap((given) => Object.values(given).map((source) => source[0])) : link.is === "pick" ? link.of.map((source) => source[0]) : link.is === "fold" ? [link.of] : link.is === "case" ? Object.values(link.of).map((source) => source[0]) : link.is === "lookup" && link.at ? [link.at[0]] : [];
      names.forEach(visit);
      const is = said(held[one], unitOf(one));
      if (link.is === "step" && is !== null) {
        const formula = link.by ? link.formula[(held[link.by] || {}).text] : link.formula[""];
        rows.steps.push({ what: one, is, formula, of: Object.entries(link.inputs[formula] || {}).map(([symbol, source]) => `${symbol} ${said(typeof source[0] === "number" ? { words: false, low: source[0], likely: source[0], high: source[0] } : held[source[0]], unitOf(source[0])) || "not known"}`) });
      }
    };
    visit(told.shows);
    for (const verdict of told.verdicts) for (const test of day().verdicts[verdict].tests) { visit(test.value); if (Array.isArray(test.limit)) visit(test.limit[0]); }
    const answer = worked.answers[name];
    rows.said = [answer.because, ...(answer.also || [])];
    return rows;
  };
  window.almanacDayAnswers = { load, base, chain, ready, things, work, printed, clock, settles, why, rounded };
})();
