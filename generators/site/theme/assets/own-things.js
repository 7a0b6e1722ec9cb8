/* Own kits and paints out of the journal of records, put beside the handbook's: in every list of kits and paints, in the chain, in every table that is swept.
   A record's name is its key in a situation. One that does not pass every check is in no list. */
(() => {
  "use strict";
  const SORT = { "own-kit": ["kits", "kit"], "own-paint": ["coatings", "coating"] }, BURNS = ["solvent", "oil", "two-pack"];
  const load = window.almanacBring;
  const held = (pages) => Object.fromEntries(pages.fields().filter((one) => !one.row && !one.field.startsWith("~")).map((one) => [one.field, { text: one.text, unit: one.unit }]));
  /* Every one that stands: {rec, sort, held, problems, values, missing, date}. */
  const all = () => [...window.almanacKeeper.journal.records.values()].filter((pages) => SORT[pages.kind] && !pages.gone("*")).map((pages) => {
    const typed = held(pages), sort = SORT[pages.kind][1];
    return { rec: pages.rec, kind: pages.kind, sort, held: typed, date: ((pages.last || {}).when || "").slice(0, 10), ...window.almanacOwn.check(sort, typed) };
  });
  const place = () => {
    const facts = window.almanacDayFacts;
    for (const list of ["kits", "coatings"]) for (const slug of Object.keys(facts.names[list])) if (slug.startsWith("own-")) { delete facts.names[list][slug]; delete facts[list][slug]; }
    for (const one of all()) {
      if (one.problems.length || one.missing.length) continue;
      const [list] = SORT[one.kind], told = window.almanacOwn.facts(one.sort, one.held, one.values, one.date), name = `${one.held.name.text.trim()} (own)`;
      facts[list][one.rec] = told.facts;
      facts.names[list][one.rec] = list === "kits" ? name : [name, BURNS.includes(told.facts["coating.family"][0])];
      if (list === "coatings") facts.sheets[one.rec] = told.sheet;
    }
  };
  let asked = null;
  const ready = () => {
    asked = asked || (async () => {
      await Promise.all([window.almanacOwnFields ? null : load("day/own.js"), window.almanacOwn ? null : load("own.js"), window.almanacTyped ? null : load("grammar.js").then(() => load("typed.js"))]);
      await load("journal.js", "keeper.js");
      await window.almanacKeeper.load("own-kit", "own-paint");
      place();
      window.almanacKeeper.addEventListener("news", (event) => { if ([...event.detail].some((rec) => rec.startsWith("own-"))) place(); });
    })().catch((error) => { asked = null; throw error; });
    return asked;
  };
  window.almanacOwnThings = { ready, all, place };
})();
