/* The job's chain, walked: a plain job in, quantities out. Twin of chain/job.py; pure, Node loads it after chain.js and searches.js. */
(function (root) {
  "use strict";
  const { walk, brought } = root.almanacWalk;

  const heldJob = (job, declared) => {
    const every = (names, from) => Object.fromEntries(Object.entries(names).map(([name, unit]) => [name, brought(from[name], name, unit)]));
    return [every(declared.fields, job.fields), Object.fromEntries(Object.entries(declared.parts).map(([part, names]) => [part, job[part].map((one) => every(names, one))]))];
  };
  /* Two paints that are one and the same (but for their coats) are bought as one: a primer and a finish from one tin cost what one paint costs. */
  const merged = (paints) => {
    const seen = new Map();
    return paints.map((paint) => {
      const { coats, key, ...same } = paint, said = JSON.stringify(same);
      if (!seen.has(said)) seen.set(said, key);
      return seen.get(said);
    });
  };
  const work = (job, way, declared, formulas) => {
    const [fields, parts] = heldJob(job, declared);
    return walk(declared.chains[way], formulas, fields, parts, {}, root.almanacSearches);
  };
  /* Why there is no answer, each reason once, where it first comes up. */
  const reasons = (out) => {
    const found = new Map(), add = (held, words) => { if (held.why && !found.has(held.why)) found.set(held.why, `${words}${held.why}`); };
    for (const [name, word] of [["surfaces", "Surface"], ["lays", "Coat"], ["paints", "Paint"], ["stages", "Stage"]]) out.parts[name].forEach((part, place) => { for (const held of Object.values(part)) add(held, `${word} ${place + 1}: `); });
    for (const held of Object.values(out.held)) add(held, "");
    return [...found.values()];
  };
  /* The calendar that the figures come from, at what is likely: for drawing. */
  const calendar = (out, declared) => {
    const likely = (one) => (one.words ? one.text : one.likely), link = declared.chains.spray.links.find((one) => one.name === "calendar");
    return root.almanacSearches.plan({ ...Object.fromEntries(Object.entries(link.inputs).map(([key, name]) => [key, likely(out.held[name])])),
      ...Object.fromEntries(Object.entries(link.lists).map(([part, names]) => [part, out.parts[part].map((one) => Object.fromEntries(names.map((name) => [name, likely(one[name])])))])) });
  };

  root.almanacJobWalk = { heldJob, merged, work, reasons, calendar };
})(typeof window === "undefined" ? globalThis : window);
