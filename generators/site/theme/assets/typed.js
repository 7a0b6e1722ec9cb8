/* Typed values read on the phone: walks the same grammar as generators/quantity/read.py, from assets/grammar.js. No rule about figures or spellings stands here.
   almanacTyped.read(text, unit) -> { text, unit, value, low, high, from, single, ask, problem }: `value`, `low` and `high` in `unit` (an open end is infinite);
   all null where the field is empty, where `problem` says why not, or where `ask` holds two readings, { choice, said, value } each, until somebody says which.
   A third part says how a comma was answered for that text ("" for not at all), where a record keeps its own answer; else the device's holds.
   almanacTyped.comma(choice) remembers "decimal", "thousands" or null on this device, and says what is remembered.
   almanacTyped.show(text, fromUnit, toUnit) -> the same value as it would stand in another unit; what was typed is not changed. */
(() => {
  "use strict";
  const g = window.almanacGrammar, KEY = "almanac-comma";
  const escaped = (word) => word.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&");
  const figure = `((?:${g.forms.map((form) => form.pattern).join("|")})${g.after})`;
  const words = [...g.below, ...g.above, ...g.nearly].sort((a, b) => b.length - a.length).map(escaped).join("|");
  const one = `(${g.sign})?\\s?${figure}(?:\\s*(${g.unit}))??`;
  const SHAPE = new RegExp(`^\\s*(?:(${words})\\s*)?${one}(?:\\s*(?:${g.either})\\s*${figure}(?:\\s*(${g.unit}))??|(?:${g.to})${one})?\\s*$`, "i");
  const JOINED = new RegExp(`^\\s*([0-9]+)\\s*(${g.unit})\\s*${figure}\\s*(${g.unit})\\s*$`);
  const exact = new Map(), folded = new Map();
  const put = (map, spelling, unit) => { const list = map.get(spelling) || []; if (!list.includes(unit)) list.push(unit); map.set(spelling, list); };
  for (const [unit, others] of Object.entries(g.units)) for (const spelling of [unit, ...others]) {
    put(exact, spelling, unit);
    if (spelling.length > 1 && !g.case_counts.includes(unit)) put(folded, spelling.toLowerCase(), unit);
  }

  class Refusal extends Error {}
  class Two extends Error {}
  const alike = (a, b) => a === b || Boolean(g.to_unit[a] && g.to_unit[a][b]);
  const convert = (value, from, to) => { if (from === to) return value; const [scale, offset] = g.to_unit[from][to]; return value * scale + offset; };
  const bare = (unit) => (unit === "1" || unit === "×" || unit.startsWith("money") ? "" : unit.replace("Δ", ""));
  const wanted = (unit, text) => new RegExp(g.powers, "i").test(text) ? "Write the figure out: 1000, not a power of ten." : `This is no figure that can be read. Write one such as 18${bare(unit) && " " + bare(unit)}, with a point.`;

  const number = (text, comma) => {
    for (const form of g.forms) {
      if (!new RegExp(`^(?:${form.pattern})$`).test(text)) continue;
      if (form.is === "fraction") {
        const parts = text.split(/[ /-]/).map(Number), bottom = parts.pop(), top = parts.pop();
        if (!g.bottoms.includes(bottom) || top >= bottom) throw new Refusal();
        return (parts.length ? parts[0] : 0) + top / bottom;
      }
      if (form.ask) {
        if (!comma) throw new Two();
        if (comma === "thousands" && !new RegExp(`^(?:${g.thousands})$`).test(text)) throw new Refusal();
        return Number(text.replace(",", comma === "decimal" ? "." : ""));
      }
      const dropped = form.drop ? text.split(form.drop).join("") : text;
      return Number(form.point ? dropped.replace(form.point, ".") : dropped);
    }
    throw new Refusal();
  };
  const meant = (typed, unit, text) => {
    let spelling = typed;
    for (const [old, now] of g.letters) spelling = spelling.split(old).join(now);
    spelling = spelling.trim().replace(/\s+/g, " ");
    const found = exact.get(spelling) || folded.get(spelling.toLowerCase()) || [];
    if (!unit && found.length) return found.includes(spelling) ? spelling : found[0];
    if (found.includes(unit)) return unit;
    for (const other of found) if (alike(other, unit)) return other;
    const kind = [unit, ...Object.keys(g.to_unit[unit] || {})].map(bare).filter(Boolean).slice(0, 2);
    if (!found.length && new RegExp(g.powers, "i").test(text)) throw new Refusal();
    throw new Refusal(`“${typed.slice(0, 30)}” ${found.length ? "measures something else" : "is no unit known here"}. ${kind.length ? `Write it in ${kind.join(" or ")}.` : "Write the figure alone."}`);
  };
  const same = (text) => {
    let out = text;
    for (const [old, now] of Object.entries(g.same)) out = out.split(old).join(now);
    for (const [old, now] of Object.entries(g.parts)) out = out.replace(new RegExp(`([0-9])[ -]?${old}`, "g"), `$1 ${now}`).split(old).join(now);
    return out;
  };
  const sign = (mark) => (mark && g.minus.includes(mark) ? -1 : 1);

  const joined = (text, unit, comma) => {
    const match = JOINED.exec(text);
    if (!match) throw new Refusal();
    const big = meant(match[2], unit, text), small = meant(match[4], unit, text);
    if (!g.joined.some((pair) => pair[0] === big && pair[1] === small)) throw new Refusal();
    const rest = number(match[3], comma), each = convert(1, big, small);
    if (rest >= each) throw new Refusal();
    const value = Number(match[1]) * each + rest;
    return { low: value, likely: value, high: value, from: small };
  };
  const reading = (typed, unit, comma) => {
    if (typed.length > g.longest) throw new Refusal();
    const text = same(typed), match = SHAPE.exec(text);
    if (!match) return joined(text, unit, comma);
    const [, bound, mark, first, spelling, error, errorSpelling, mark2, second, spelling2] = match;
    let value = number(first, comma) * sign(mark), from = unit;
    const other = second === undefined ? 0 : number(second, comma) * sign(mark2);
    let spread = error === undefined ? 0 : number(error, comma);
    const last = spelling2 || errorSpelling;
    const about = Boolean(bound) && g.nearly.includes(bound.toLowerCase());
    if ((bound && (error !== undefined || (second !== undefined && !about))) || (second !== undefined && spelling && !spelling2)) throw new Refusal();
    if (!spelling && !last && !unit) throw new Refusal("Add the unit.");
    if (error !== undefined && spelling && errorSpelling === "%" && !alike(meant(spelling, unit, text), "%")) {
      from = meant(spelling, unit, text);
      spread = Math.abs(value) * spread / 100;
    } else if (spelling || last) {
      from = meant(spelling || last, unit, text);
      if (error !== undefined && spelling && errorSpelling) {
        const step = from === "°C" || from === "°F" ? "Δ" + from : from;
        spread = convert(spread, meant(errorSpelling, step, text), step);
      }
    }
    if (about && second === undefined) { spread = Math.abs(value) * g.nearly_spread / 100; return { low: value - spread, likely: value, high: value + spread, from }; }
    if (bound && !about) return g.below.includes(bound.toLowerCase()) ? { low: -Infinity, likely: value, high: value, from } : { low: value, likely: value, high: Infinity, from };
    if (error !== undefined) return { low: value - spread, likely: value, high: value + spread, from };
    if (second !== undefined) {
      if (spelling && spelling2) { const into = meant(spelling2, unit, text); value = convert(value, from, into); from = into; }
      if (value > other) throw new Refusal("Write the lower figure of the range first.");
      return { low: value, likely: (value + other) / 2, high: other, from };
    }
    return { low: value, likely: value, high: value, from };
  };

  /* Figures as the grammar would have them written: a point, a true minus, no powers of ten, no more digits than a hand can use. */
  const shown = (value) => {
    const size = Math.abs(value);
    if (size >= 1000) return String(Math.round(value)).replace("-", "−");
    if (size < 1e-6) return "0";
    return String(Number(value.toFixed(Math.max(0, 3 - Math.floor(Math.log10(size)))))).replace("-", "−");
  };
  const whole = (value) => { const text = String(Number(value.toPrecision(12))); return text.includes("e") ? value.toFixed(12).replace(/0+$/, "") : text; };
  const said = (is, unit, written) => {
    const [low, likely, high] = ["low", "likely", "high"].map((end) => written(Number.isFinite(is[end]) ? convert(is[end], is.from, unit) : is[end]));
    if (is.low === is.high) return likely;
    return is.low === -Infinity ? `<${likely}` : is.high === Infinity ? `>${likely}` : `${low}–${high}`;
  };
  let kept = null;
  try { kept = localStorage.getItem(KEY); } catch { /* nothing is kept here */ }
  const CHOICES = ["decimal", "thousands"];
  const comma = (choice) => {
    if (choice === undefined) return CHOICES.includes(kept) ? kept : null;
    kept = CHOICES.includes(choice) ? choice : null;
    try { if (kept) localStorage.setItem(KEY, kept); else localStorage.removeItem(KEY); } catch { /* it is asked again on the next page */ }
    window.dispatchEvent(new CustomEvent("almanac-comma", { detail: kept }));
    return kept;
  };
  if (window.addEventListener) window.addEventListener("storage", (event) => { if (event.key === KEY) { kept = event.newValue; window.dispatchEvent(new CustomEvent("almanac-comma", { detail: kept })); } });

  const read = (typed, unit, answer = comma()) => {
    const text = String(typed === null || typed === undefined ? "" : typed);
    const none = { text, unit: unit || null, value: null, low: null, high: null, from: null, single: false, ask: null, problem: null };
    if (text.trim() === "") return none;
    try {
      const is = reading(text, unit || "", answer), into = unit || is.from;
      const [value, low, high] = [is.likely, is.low, is.high].map((end) => (Number.isFinite(end) ? convert(end, is.from, into) : end));
      return { ...none, unit: into, value, low, high, from: is.from, single: is.low === is.high };
    } catch (error) {
      if (error instanceof Two) {
        try {
          const ask = ["decimal", "thousands"].map((choice) => {
            const is = reading(text, unit || "", choice === "decimal" ? choice : "either"), into = unit || is.from;
            return { choice, said: said(is, is.from, whole), value: convert(is.likely, is.from, into) };
          });
          return { ...none, ask };
        } catch (inner) { if (!(inner instanceof Refusal)) throw inner; return { ...none, problem: inner.message || wanted(unit || "mm", text) }; }
      }
      if (!(error instanceof Refusal)) throw error;
      return { ...none, problem: error.message || wanted(unit || "mm", text) };
    }
  };
  const show = (text, fromUnit, toUnit, answer = comma()) => {
    if (fromUnit === toUnit || String(text).trim() === "") return text;
    try {
      const is = reading(String(text), fromUnit, answer);
      return is.from === toUnit ? text : said(is, toUnit, shown);
    } catch (error) { if (error instanceof Refusal || error instanceof Two) return text; throw error; }
  };
  window.almanacTyped = { read, comma, show };
})();
