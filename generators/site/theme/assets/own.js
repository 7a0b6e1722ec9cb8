/* A kit or a paint of one's own, as it was typed into its form: checked as a file of the handbook is checked, and told to the day's chain as a file's facts are.
   Fields, spans, relations, classes and the words that force a hard stop come from assets/day/own.js. No screen, no store; Node loads it too.
   `held` is {entry: {text, unit}} as the form keeps it; an entry's name is the field's, with hyphens. */
(() => {
  "use strict";
  const told = () => globalThis.almanacOwnFields, typed = () => globalThis.almanacTyped;
  /* Parts of base to one of hardener; not a number where the text says none. */
  const parted = (said) => { const parts = /^\s*([0-9.]+)\s*:\s*([0-9.]+)\s*$/.exec(said); return parts ? Number(parts[1]) / Number(parts[2]) : NaN; };
  const HARDENERS = ["none", "isocyanate", "amine", "acid", "other"], PATTERNS = ["taper", "bell", "flat-core"];
  const TWO = ["ratio", "hardener_density", "pot_life", "induction"];
  const text = (held, name) => ((held[name] || {}).text || "").trim();

  /* One figure as {low, likely, high} in the field's own unit, or what is wrong with it. A range counts with the end that the files count. */
  const figure = (held, entry, [unit, low, high, counts, example]) => {
    const said = text(held, entry);
    if (!said) return null;
    const from = held[entry].unit || unit, is = typed().read(said, from);
    if (is.ask) return { problem: [`one meaning of its comma`, said, "answer what is asked under the field"] };
    if (is.value === null) return { problem: [`a value such as ${example}`, said, is.problem || "check the number and the unit"] };
    const inner = (value) => (Number.isFinite(value) ? typed().read(`${String(value).includes("e") ? value.toFixed(12) : value} ${from}`, unit).value : value);
    const ends = is.unit === unit ? [is.low, is.value, is.high] : [inner(is.low), inner(is.value), inner(is.high)];
    const bottom = ends[0] === -Infinity ? low : ends[0], top = ends[2] === Infinity ? high : ends[2], hair = 1e-9 * Math.max(1, Math.abs(low), Math.abs(high));
    if (!(low - hair <= bottom && bottom <= ends[1] && ends[1] <= top && top <= high + hair)) return { problem: [`a value between ${low} and ${high} ${unit.replace("Δ", "")}`, said, "check the number and the unit"] };
    const range = !is.single && Number.isFinite(is.low) && Number.isFinite(is.high) && !/±|\+\/-/.test(said);
    return { low: bottom, likely: range && counts !== "middle" ? (counts === "low" ? bottom : top) : ends[1], high: top };
  };

  const families = (held) => (told().classes[text(held, "class")] || {}).family;
  const found = (pattern, words) => { try { return new RegExp(pattern, "i").test(words); } catch { return true; } }; // a browser that cannot read the rule takes the safe side
  const without = (pattern, words) => { try { return words.replace(new RegExp(pattern, "gi"), ""); } catch { return words; } };
  const written = (held) => [text(held, "name"), text(held, "class"), (told().classes[text(held, "class")] || {}).label, text(held, "thin-with"), text(held, "notes")].join(" ; ");
  /* none, isocyanate, amine, acid or other. What two tins make, or air sets, and that does not say counts as isocyanate, and so does any tin whose words do. */
  const hardener = (held) => {
    const fields = told(), kind = fields.classes[text(held, "class")] || {}, said = text(held, "hardener"), words = written(held);
    if (said === "isocyanate" || kind.stop === "isocyanates" || found(fields.isocyanate, without(fields.free, words))) return "isocyanate";
    if (kind.family === "two-pack" || TWO.some((name) => text(held, name.replaceAll("_", "-")))) return said === "none" ? "isocyanate" : said || "isocyanate";
    return !said && found(fields.asked, words) ? "isocyanate" : said || "none";
  };
  const stops = (held) => [...new Set([(told().classes[text(held, "class")] || {}).stop, hardener(held) === "isocyanate" ? "isocyanates" : "", found(told().metals, without(told().no_metals, written(held))) ? "chromate-lead-primer" : ""].filter(Boolean))];

  /* Every field read and every check asked, all of them at once: {problems: [[entry, wanted, came, mend]], values, missing: [entry]}. */
  const check = (sort, held) => {
    const fields = told()[sort].fields, problems = [], values = {}, missing = [], two = sort === "coating" && TWO.some((name) => text(held, name.replaceAll("_", "-")));
    const water = sort === "coating" && thinner(held) === "water";
    const named = text(held, "name");
    if (!named) missing.push("name"); else if (named.length > 60) problems.push(["name", "a name of 60 letters at the most", named, "shorten it"]);
    for (const [name, spec] of Object.entries(fields)) {
      const entry = { limit: "seconds", supplied: "seconds", nozzles: "nozzle" }[name] || name.replaceAll("_", "-"), is = figure(held, entry, spec);
      const needed = name === "thinner_density" ? !water : name === "nozzle" ? false : TWO.includes(name) ? two && name !== "induction" : spec[5];
      if (is === null) { if (needed) missing.push(entry); } else if (is.problem) problems.push([entry, ...is.problem]); else values[name] = is;
    }
    if (sort === "coating") {
      if (!text(held, "class")) missing.push("class"); else if (!Object.hasOwn(told().classes, text(held, "class"))) problems.push(["class", "a class of this handbook", text(held, "class"), "choose one of the list"]);
      if (text(held, "hardener") && !HARDENERS.includes(text(held, "hardener"))) problems.push(["hardener", "one of the list", text(held, "hardener"), "choose it"]);
      const dose = [figure(held, "trial-thinner", fields.thinner_max), figure(held, "trial-seconds", ["s", 1, 600, "middle", "45 s"])];
      if (dose.every((one) => one && !one.problem)) values.trial = dose; else if (dose.some(Boolean)) problems.push(["trial-seconds", "a first dose and the seconds after it", text(held, "trial-thinner") || text(held, "trial-seconds"), "say both, or neither"]);
      if (dose.some(Boolean) && !values.supplied) missing.push("seconds");
      if (two) {
        const times = parted(text(held, "ratio"));
        if (!text(held, "ratio")) missing.push("ratio"); else if (!(times >= 0.2 && times <= 100)) problems.push(["ratio", "parts of base to parts of hardener, such as 4:1", text(held, "ratio"), "write the two numbers with a colon"]);
      }
    } else {
      if (!PATTERNS.includes(text(held, "pattern"))) missing.push("pattern");
      if (!/^[0-9]{1,2}$/.test(text(held, "stages"))) { if (text(held, "stages")) problems.push(["stages", "a whole number", text(held, "stages"), "write digits only"]); else missing.push("stages"); }
    }
    const cup = text(held, "cup"), timed = values.limit || values.supplied;
    if (timed && !Object.hasOwn(told().cups, cup)) { if (cup) problems.push(["cup", "a cup of this handbook", cup, "choose one of the list"]); else missing.push("cup"); }
    if (values.limit && told().cups[cup] && !(values.limit.likely >= told().cups[cup][0] && values.limit.likely <= told().cups[cup][1])) problems.push(["seconds", `a time that ${told().cups[cup][2]} can be read at, ${told().cups[cup][0]} to ${told().cups[cup][1]} s`, text(held, "seconds"), "time it in another cup"]);
    for (const [low, high] of told()[sort].ordered) if (values[low] && values[high] && values[low].likely >= values[high].likely) problems.push([high.replaceAll("_", "-"), `more than ${low.replaceAll("_", " ")}`, text(held, high.replaceAll("_", "-")), "swap or mend the two"]);
    return { problems, values, missing: [...new Set(missing)] };
  };
  /* Thinned with water, or with its own thinner: by what is said, else by its class. */
  const thinner = (held) => { const said = text(held, "thin-with").toLowerCase(); return said ? (said === "water" ? "water" : "other") : ["waterborne", "mineral"].includes(families(held)) ? "water" : "other"; };

  const TODAY = "own, typed on this phone";
  const row = (one, date, scale = 1) => (one ? [[one.low * scale, one.likely * scale, one.high * scale], TODAY, "", date] : [null, TODAY, "", date]);
  const word = (one, date) => [one, TODAY, "", date];
  /* Facts by dotted name, as the day's chain takes them: {facts, sheet}. Only of what passes every check. */
  const facts = (sort, held, values, date) => {
    const out = {};
    if (sort === "kit") {
      for (const name of told().figures.kit) out[`kit.${name}`] = row(values[name], date);
      for (const [name, said] of [["cup", text(held, "cup")], ["pattern", text(held, "pattern")], ["name", text(held, "name")]]) out[`kit.${name}`] = word(said, date);
      return { facts: out, sheet: [] };
    }
    const kind = told().classes[text(held, "class")], water = thinner(held) === "water", mine = kind[thinner(held)], own = values.thinner_density;
    Object.assign(out, mine, told().solvents[text(held, "thin-with").toLowerCase()] || {});
    for (const name of told().figures.coating) out[`coating.${name}`] = row(values[name], date);
    out["coating.thinner_density"] = water ? [[0, 0, 0], TODAY, "", date] : row(own, date);
    out["coating.thinner_weight"] = water || !own || own.likely === 0 ? [[1, 1, 1], TODAY, "", date] : row(own, date, 0.001);
    out["coating.thinner_span"] = [[0, 0, values.thinner_max.high], TODAY, "", date];
    out["coating.voc_counted"] = mine["coating.voc_rule"][0] === "limited" ? row(values.voc, date) : [null, TODAY, "", date];
    const times = values.hardener_density ? parted(text(held, "ratio")) : NaN, pair = times > 0;
    out["coating.ratio"] = [pair ? [times, times, times] : null, TODAY, "", date];
    const words = { name: text(held, "name"), pair: pair ? "volume-base" : "none", hardener: hardener(held), stop: stops(held)[0] || "none", family: kind.family, window: values.recoat_before ? "closes" : "open", parts: kind.family === "two-pack" || values.pot_life ? "two-pack" : "one-pack", cup: "speaks" };
    for (const [name, said] of Object.entries(words)) out[`coating.${name}`] = word(said, date);
    const sheet = values.supplied ? [[0, values.supplied.likely, text(held, "cup")], ...(values.trial ? [[values.trial[0].likely, values.trial[1].likely, text(held, "cup")]] : [])] : [];
    return { facts: out, sheet };
  };
  const made = { check, facts, hardener, stops, thinner };
  if (typeof module === "object") module.exports = made; else window.almanacOwn = made;
})();
