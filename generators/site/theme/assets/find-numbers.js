/* Figures in a question, answered in the result: what was typed becomes readings, and the day's own chain answers, with its own stops. No sum is written here.
   What is missing is asked for with keys, before anything is divided or poured. Nothing typed here is kept. `almanacFigures(text)` is pure; Node loads it too. */
(function (root) {
  "use strict";
  const NUMBER = "(\\d+(?:[.,]\\d+)?)", END = "(?![a-z0-9])";
  // One form each: [what it is, its spelling after a figure, the unit that the one reader of values knows]. The first that fits takes the figure.
  const FORMS = [
    ["cup-time", `${NUMBER}\\s*(?:s|secs?|seconds?)`, "s"],
    ["fahrenheit", `(-?${NUMBER.slice(1, -1)})\\s*(?:°\\s*f|deg(?:rees?)?\\s*f(?:ahrenheit)?|fahrenheit|f)`, "°F"],
    ["celsius", `(-?${NUMBER.slice(1, -1)})\\s*(?:°\\s*c|deg(?:rees?)?\\s*c(?:elsius)?|celsius|c)`, "°C"],
    ["degrees", `(-?${NUMBER.slice(1, -1)})\\s*(?:°|deg(?:rees?)?)`, ""],
    ["relative-humidity", `${NUMBER}\\s*(?:%|percent|per cent)?\\s*(?:rh|relative humidity|humidity|humid|damp)`, "%"],
    ["percent", `${NUMBER}\\s*(?:%|percent|per cent|pc)`, "%"],
    ["litres", `${NUMBER}\\s*(?:ml|millilit(?:re|er)s?)`, "mL"],
    ["litres", `${NUMBER}\\s*(?:l|lit(?:re|er)s?)`, "L"],
    ["litres", `${NUMBER}\\s*(?:fl\\.?\\s*oz|ounces?|oz)`, "fl oz"],
    ["litres", `${NUMBER}\\s*(?:us\\s*)?(?:quarts?|qts?)`, "qt"],
    ["litres", `${NUMBER}\\s*(?:us\\s*)?(?:gallons?|gals?)`, "gal"],
    ["distance", `${NUMBER}\\s*(?:mm|millimet(?:re|er)s?)`, "mm"],
    ["distance", `${NUMBER}\\s*(?:in|inch|inches|")`, "in"],
  ].map(([name, form, unit]) => [name, new RegExp(`(?<![0-9.,a-z])${form}${END}`, "g"), unit]);
  const RATIO = /(?<![0-9.,])(\d+(?:\.\d+)?)\s*(?:parts?[a-z ]*)?(?:to|:|\/)\s*(\d+(?:\.\d+)?)(?![0-9.])(?!\s*(?:s|secs?|seconds?|%|percent|ml|mm|microns?|°|deg)\b)/;

  // One unit in another: a question for the page of units, whatever else it says.
  const UNIT = "(?:(?:metres?|meters?|feet) (?:per|a) (?:second|minute)|°?[cf]|celsius|fahrenheit|mils?|thou|microns?|[µu]m|mm|cm|in|inch(?:es)?|ml|l|lit(?:re|er)s?|fl ?oz|ounces?|pints?|quarts?|gal(?:lon)?s?|psi|bar|kpa|kg|lbs?|m2|sq ?ft|mph|km/?h|knots?|m/s)";
  const TURNED = new RegExp(`(?:(?:[0-9]|\\b)\\s*${UNIT}\\s+(?:in|to|into|as|(?:is )?how many|equals)|how many ${UNIT} (?:in|to|is|are|make))\\s+(?:an?\\s+|one\\s+|[0-9.]+\\s*)?(?:us\\s+)?${UNIT}${END}`);

  /* { ratio: [a, b], "cup-time": [[figure, unit], …], … }: what was read of a question, each figure once. */
  const figures = (text) => {
    let left = ` ${text.toLowerCase().replace(/\b(\d+)\s*-\s*(\d+)\b/g, "$1 $2")} `;
    const found = {};
    if (TURNED.test(left)) found.turned = [];
    const ratio = RATIO.exec(left);
    if (ratio) { found.ratio = [Number(ratio[1]), Number(ratio[2])]; left = left.replace(ratio[0], " ; "); }
    for (const [name, form, unit] of FORMS) left = left.replace(form, (whole, figure) => { (found[name] = found[name] || []).push([figure, unit]); return " ; "; });
    return found;
  };
  /* How much each page gains from the figures alone: two that belong together say more than words do. */
  figures.lean = (found) => {
    const warm = found.celsius || found.fahrenheit || found.degrees, gain = {};
    if (found.turned) gain["reference/units.html"] = 2;
    else if (found.ratio) gain["mix/two-pack.html"] = found.litres ? 0.7 : 0.3;
    else if (found["cup-time"] && warm) gain["mix/thinning.html"] = 0.7;
    else if (found.percent && found.litres) gain["mix/thinning.html"] = 0.7;
    else if (found["relative-humidity"] && warm) gain["air/go-or-wait.html"] = 0.5;
    return gain;
  };
  root.almanacFigures = figures;
  if (typeof module !== "undefined") module.exports = figures;
  if (typeof document === "undefined") return;

  let asked = null;
  const ready = () => {
    asked = asked || window.almanacBring("grammar.js", "typed.js", "day.js").then(() => window.almanacDayAnswers.chain()).then(() => window.almanacBring("sets.js", "kept.js"))
      .then(() => ((window.almanacFormulas || {})["part-b"] ? null : window.almanacBring("formulas/part-b.js")));
    asked.catch(() => { asked = null; });
    return asked;
  };
  const made = (name, kind, text) => { const is = document.createElement(name); if (kind) is.className = kind; if (text) is.textContent = text; return is; };
  const SIGN = { go: "✓ go", care: "△ take care", stop: "✕ stop", unknown: "? not known" };
  // What each figure settles: the answers to show, and the page that has all of it.
  /** @type {[string, string[], string][]} */
  const WANTED = [
    ["cup-time", ["pot", "seconds-after"], "mix/thinning.html"], ["thinner-wanted", ["pot", "seconds-after"], "mix/thinning.html"],
    ["surface-temperature", ["margin"], "air/dew-point.html"], ["relative-humidity", ["lowest-surface", "coat-wait"], "air/go-or-wait.html"],
    ["distance", ["fan", "step"], "gun/distance-and-fan.html"],
  ];

  let turn = 0, before = "", chosen = {};
  /* Fill `place` with the answers to the figures in `text`; hide it where there are none. */
  window.almanacFindNumbers = (text, place, site, find) => {
    const mine = ++turn, found = figures(text);
    if (text !== before) { before = text; chosen = {}; }
    if (!Object.keys(found).length) { place.hidden = true; place.replaceChildren(); return; }
    ready().then(() => { if (mine === turn) show(text, found, place, site, find); }).catch(() => { place.hidden = true; });
  };

  const readings = (text, found) => {
    const typed = window.almanacTyped, kept = window.almanacKept, list = window.almanacDay.readings, more = {}, said = [];
    const put = (name, [figure, unit]) => {
      const is = typed.read(`${figure} ${unit}`.trim(), list[name].unit, "decimal");
      if (is.value === null || is.problem) return;
      more[name] = { text: `${figure} ${unit}`.trim(), at: kept.clock.now(), value: is.value, low: is.low, high: is.high, unit: list[name].unit };
      said.push(`${name.replaceAll("-", " ")} ${figure} ${unit}`.trim());
    };
    const degrees = [...(found.celsius || []), ...(found.fahrenheit || []), ...(found.degrees || []).map(([figure]) => [figure, kept.system() === "us" ? "°F" : "°C"])];
    for (const name of ["cup-time", "relative-humidity", "distance"]) if (found[name]) put(name, found[name][0]);
    if (degrees.length) {
      const surface = /\b(surface|wall|steel|metal|door|boards?)\b/.test(text) && found["relative-humidity"];
      if (found["cup-time"] || found.percent || found.litres) put("paint-temperature", degrees[0]);
      else { put("air-temperature", degrees[0]); if (degrees[1] || surface) put("surface-temperature", degrees[1] || degrees[0]); }
    }
    if (found.percent && !found.ratio) put("thinner-wanted", found.percent[0]);
    if (found.litres) put("pot-litres", found.litres[0]);
    return { more, said };
  };
  /* Paints whose name or kind holds words of the question; rarer words count for more, and only the best stay. */
  const paints = (text, find, only) => {
    const names = window.almanacDayFacts.names.coatings, asks = find.stems(text), owners = new Map();
    /** @type {[string, Set<string>][]} */
    const words = Object.entries(names).filter(([slug]) => !only || only(slug)).map(([slug, [name]]) => [slug, new Set(find.stems(`${name} ${slug}`))]);
    for (const [, set] of words) for (const word of set) owners.set(word, (owners.get(word) || 0) + 1);
    const scored = words.map(([slug, set]) => [slug, asks.reduce((sum, word) => sum + (set.has(word) ? 1 / owners.get(word) : 0), 0)]).filter(([, score]) => score > 0);
    const best = Math.max(0, ...scored.map(([, score]) => score));
    return scored.filter(([, score]) => score > best - 1e-9).map(([slug]) => slug);
  };

  const show = (text, found, place, site, find) => {
    const kept = window.almanacKept, day = window.almanacDayAnswers, facts = window.almanacDayFacts, system = kept.system();
    const { more, said } = readings(text, found);
    const again = (name, slug) => { chosen[name] = slug; show(text, found, place, site, find); };
    const choice = (label, name, options) => {
      const row = made("p", "alm-figured-ask", `${label} `);
      for (const [slug, title] of options) { const key = made("button", "md-button", title); key.type = "button"; key.addEventListener("click", () => again(name, slug)); row.append(key, " "); }
      return row;
    };
    const word = (name, slug) => { more[name] = { text: slug, at: kept.clock.now() }; };
    const kit = chosen.kit || kept.kit() || facts.default_kit;
    word("kit", kit);
    if (chosen.hardener) word("hardener", chosen.hardener);
    const wanted = found.ratio ? [] : WANTED.find(([name]) => name in more);
    if (found.turned || (!found.ratio && !wanted)) { place.hidden = true; place.replaceChildren(); return; }
    const parts = [];
    const work = (coating) => {
      if (coating) word("coating", coating); else delete more.coating;
      const situation = kept.situation(more);
      if (found.ratio && !coating) delete situation.words.coating;
      return day.ready(situation).then(() => day.work(situation, system));
    };
    const line = (title, value, verdict, because, remedy) => {
      const row = made("p", `alm-figured-line alm-figured-${verdict}`);
      row.append(made("span", "alm-figured-title", title), made("strong", "alm-figured-value", value || "–"), made("span", "alm-figured-sign", SIGN[verdict]));
      if (because && verdict !== "go") row.append(made("span", "alm-figured-why", `${because} ${remedy || ""}`.trim()));
      return row;
    };
    /* The page, its fields filled with the figures that it asks for. */
    const FIELDS = { "cup-time": "first-time", "pot-litres": "pot", "thinner-wanted": "thinner" };
    const door = (at, title, figures) => {
      const link = made("a", "md-button", title), to = new URL(at, site);
      for (const [name, is] of Object.entries(figures || {})) to.searchParams.set(FIELDS[name] || name, is);
      link.href = to.href; 
      const row = made("p");
      row.append(link);
      return row;
    };
    const finish = () => { place.replaceChildren(...parts); place.hidden = false; };

    if (found.ratio) {
      const [a, b] = found.ratio, litres = (more["pot-litres"] || {}).value;
      const two = (slug) => /two-pack|epoxy|2k/.test(slug);
      const paint = chosen.coating || paints(text, find, two)[0] || null;
      work(paint).then((worked) => {
        const allowed = worked.answers.allowed, hardener = worked.out.held.hardener.text;
        parts.push(made("p", "alm-figured-read", `Read as: ${a} to ${b} by volume${litres ? `, ${more["pot-litres"].text} of mix` : ""}${paint ? `, ${facts.names.coatings[paint][0]}` : ""}`));
        if (allowed.verdict === "stop") parts.push(line("May it be sprayed at all", "no", "stop", allowed.because, allowed.remedy));
        else if (hardener === null) parts.push(line("Hardener for this batch", "", "unknown", "Not known: hardener.", window.almanacDay.readings.hardener.ask), choice("The hardener is:", "hardener", window.almanacDay.readings.hardener.options.map((slug) => [slug, slug === "none" ? "none in this paint" : slug])));
        else if (hardener === "none") parts.push(line("Hardener for this batch", "", "unknown", "A paint without a hardener has no ratio to divide by.", "Read the tin again."));
        else if (!litres) parts.push(line("Hardener for this batch", "", "unknown", "Not known: how much mix.", `Say how much you want, such as ${system === "us" ? "1 qt" : "500 ml"}.`));
        else {
          const formula = window.almanacFormulas["part-b"], [value, why] = formula.work({ batch: litres, ratio: a / b });
          if (why) parts.push(line("Hardener for this batch", "", "unknown", why, ""));
          else {
            const [unit, scale] = system === "us" ? window.almanacDay.us.mL : ["mL", 1], ml = (litre) => `${Number((1000 * litre * scale).toPrecision(3))} ${unit}`;
            parts.push(line(`Hardener for ${more["pot-litres"].text} of mix`, ml(value / 1000), allowed.verdict, allowed.because, allowed.remedy), line("Base", ml(litres - value / 1000), allowed.verdict, "", ""));
          }
        }
        parts.push(door("mix/two-pack.html", "Two-pack: ratio and pot life", { ratio: String(a / b), ...(litres ? { batch: more["pot-litres"].text } : {}) }));
        finish();
      });
      return;
    }
    const [, answers, page] = wanted;
    const mentioned = chosen.coating ? [chosen.coating] : paints(text, find);
    const paint = mentioned[0] || (kept.situation({}).words.coating || null);
    work(paint).then((worked) => {
      parts.push(made("p", "alm-figured-read", `Read as: ${[...said, ...(paint ? [facts.names.coatings[paint][0]] : []), facts.names.kits[kit] + (chosen.kit || kept.kit() ? "" : " (no kit is chosen)")].join(", ")}`));
      const told = answers.map((name) => [name, worked.answers[name]]), stopped = told.find(([, is]) => is.verdict === "stop");
      if (worked.answers.allowed.verdict === "stop") parts.push(line("May it be sprayed at all", "no", "stop", worked.answers.allowed.because, worked.answers.allowed.remedy));
      else if (stopped) parts.push(line(window.almanacDay.answers.find((one) => one.name === answers[0]).title, "", "stop", stopped[1].because, stopped[1].remedy));
      else for (const [name, is] of told) {
        if (is.value === undefined && told.length > 1 && name !== answers[0]) continue;
        parts.push(line(window.almanacDay.answers.find((one) => one.name === name).title, is.value === undefined ? "" : day.printed(name, is, system), is.verdict, is.because, is.remedy));
      }
      if (worked.out.held.coating === undefined || !paint) {
        if (told.some(([, is]) => is.verdict === "unknown" && /coating/.test(is.because || ""))) parts.push(choice("Which paint?", "coating", Object.entries(facts.names.coatings).map(([slug, [name]]) => [slug, name])));
      } else if (mentioned.length > 1) parts.push(choice("Or:", "coating", mentioned.filter((slug) => slug !== paint).slice(0, 3).map((slug) => [slug, facts.names.coatings[slug][0]])));
      const others = Object.entries(facts.names.kits).filter(([slug]) => slug !== kit);
      if (others.length && /^mix|^gun/.test(page)) parts.push(choice("With another kit:", "kit", others.slice(0, 4)));
      parts.push(door(page, "The page with all of it", Object.fromEntries(Object.entries(more).filter(([, is]) => "value" in is).map(([name, is]) => [name, is.text]))));
      finish();
    });
  };
})(typeof window === "undefined" ? globalThis : window);
