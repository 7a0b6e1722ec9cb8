/* Readings in words: what each is called, how it stands in a sentence, what may be chosen. Asking for one is a file of its own, fetched at the first press. */
(() => {
  "use strict";
  const kept = window.almanacKept, { load, clock } = window.almanacDayAnswers;
  const facts = () => window.almanacDayFacts, readings = () => window.almanacDay.readings;
  const TITLE = { "pot-litres": "In the pot now", "cup-time": "Cup time, with no thinner yet", "paint-temperature": "The paint", "air-temperature": "The air", "relative-humidity": "How damp the air is", "surface-temperature": "The surface", "last-coat-at": "The last coat was finished", "touch-test": "The last coat, touched in a corner", "rain-at": "Rain is due", "air-changes": "Air changes", "stroke-length": "One stroke" };
  const OPTION = { "not-sure": "not sure", "not-tested": "not tested" };
  const title = (name) => TITLE[name] || (name[0].toUpperCase() + name.slice(1)).replaceAll("-", " ");
  const said = (option) => OPTION[option] || option;

  const choices = (name) => {
    const reading = readings()[name];
    if (reading.of === "kits") return Object.entries(facts().names.kits);
    if (reading.of === "coatings") return Object.entries(facts().names.coatings).map(([slug, [is]]) => [slug, is]);
    if (reading.of === "cups") return Object.entries(facts().names.cups);
    return reading.options.length ? reading.options.map((one) => [one, said(one)]) : Object.keys(facts().regions).map((one) => [one, one.toUpperCase()]);
  };
  /* A reading in words, as it stands in a sentence. */
  const shown = (name) => {
    const was = kept.get(name);
    if (was === undefined) return null;
    const reading = readings()[name];
    if (Array.isArray(was)) return was.map((one) => one.text.replace(":", " → ").replace(/s(?=@|$)/, " s").replace("@", " at ")).pop();
    if (reading.kind === "number") return was.text;
    if (reading.kind === "time") return was.text === "none" ? "none" : clock(kept.minutes(was.text, kept.clock.now().slice(0, 10)), kept.clock.now().slice(0, 10));
    return (choices(name).find(([slug]) => slug === was.text) || [0, was.text])[1];
  };

  const paintOf = (set) => { const is = set.readings.coating; return is ? (facts().names.coatings[is.text] || [is.text])[0] : "no paint yet"; };
  const called = (sort, key, set) => [set.name, sort === "pot" ? paintOf(set) : "", !set.name && sort !== "pot" ? `${sort} ${kept.sets(sort).findIndex(([one]) => one === key) + 1}` : ""].filter(Boolean).join(", ");
  const asked = () => load("ask.js");
  window.almanacReadings = { title, shown, called, choices, ask: (...given) => asked().then(() => window.almanacAsk.ask(...given)), which: (...given) => asked().then(() => window.almanacAsk.which(...given)) };
})();
