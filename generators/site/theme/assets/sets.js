/* The sets of a situation (day, job, places, pots, pieces, kits) and the flat list of places and texts that they are kept as: no screen, no store; Node loads it too.
   A place is "sort/key/field": the field is a reading's name, ~name (what the set is called) or ~poured; "hand/day/day" and "hand/chosen/SORT" say what is in hand.
   A reading is { text, at, value, low, high, unit } for a number (value and ends in `unit`), else { text, at }; doses are a list. `from` names another phone: such a
   reading was taken by somebody else, is shown, and counts for nothing until it is read again here. */
(() => {
  "use strict";
  const SORTS = ["day", "job", "place", "pot", "pieces", "kit"];
  const plain = (value) => Boolean(value) && typeof value === "object" && !Array.isArray(value);
  const begin = () => ({ day: null, chosen: { day: "day", job: "job-1", place: "place-1", pot: "pot-1", pieces: "pieces-1", kit: null },
    sets: { day: { day: { name: "", readings: {} } }, job: { "job-1": { name: "", readings: {} } }, place: { "place-1": { name: "", readings: {} } },
      pot: { "pot-1": { name: "", readings: {} } }, pieces: { "pieces-1": { name: "", readings: {} } }, kit: {} } });
  /* A reading that can be counted on: its text, its moment, and figures that are figures. One that is damaged was never read. */
  const sound = (one) => (Array.isArray(one) ? one.length > 0 && one.every((part) => sound(part) && Number.isFinite(part.share) && Number.isFinite(part.seconds))
    : plain(one) && typeof one.text === "string" && one.text.length <= 200 && /^\d{4}-\d\d-\d\dT\d\d:\d\d$/.test(one.at) && ["value", "low", "high"].every((end) => !(end in one) || Number.isFinite(one[end])));
  const flat = (state) => {
    const out = {};
    for (const sort of SORTS) {
      for (const [key, set] of Object.entries(state.sets[sort])) {
        const place = `${sort}/${key}/`;
        out[`${place}~name`] = set.name;
        for (const [name, reading] of Object.entries(set.readings)) out[place + name] = JSON.stringify(reading);
        if (Number.isFinite(set.poured)) out[`${place}~poured`] = String(set.poured);
      }
      if (state.chosen[sort] !== null) out[`hand/chosen/${sort}`] = state.chosen[sort];
    }
    if (state.day) out["hand/day/day"] = state.day;
    return out;
  };
  /* What can be read of a flat list; what is damaged was never there, and what has to be there begins empty. */
  const unflat = (found) => {
    const state = begin(), fresh = new Set(SORTS.flatMap((sort) => Object.keys(state.sets[sort]).map((key) => `${sort}/${key}`)));
    for (const [place, text] of Object.entries(found)) {
      const [sort, key, field] = place.split("/");
      if (sort === "hand" || !SORTS.includes(sort) || !key || !field || typeof text !== "string") continue;
      const sets = state.sets[sort];
      if (!Object.hasOwn(sets, key)) sets[key] = { name: "", readings: {} };
      fresh.delete(`${sort}/${key}`);
      const set = sets[key];
      if (field === "~name") set.name = text.slice(0, 60);
      else if (field === "~poured") { if (Number.isFinite(Number(text)) && text) set.poured = Number(text); } else {
        try { const reading = JSON.parse(text); if (sound(reading)) set.readings[field] = reading; } catch { /* it was never read */ }
      }
    }
    const hand = (name) => found[`hand/${name}`];
    state.day = /^\d{4}-\d\d-\d\d$/.test(hand("day/day") || "") ? hand("day/day") : null;
    for (const sort of SORTS) {
      const said = hand(`chosen/${sort}`), others = Object.keys(state.sets[sort]).filter((key) => !fresh.has(`${sort}/${key}`));
      if (said !== undefined && Object.hasOwn(state.sets[sort], said)) state.chosen[sort] = said; else if (sort !== "kit" && others.length) [state.chosen[sort]] = others;
      // The set that everybody begins with is no set of its own where there are others.
      if (others.length && sort !== "day") for (const key of Object.keys(state.sets[sort])) if (fresh.has(`${sort}/${key}`) && state.chosen[sort] !== key) delete state.sets[sort][key];
    }
    return state;
  };
  const found = { SORTS, begin, flat, unflat, sound };
  if (typeof module === "object") module.exports = found; else window.almanacSets = found;
})();
