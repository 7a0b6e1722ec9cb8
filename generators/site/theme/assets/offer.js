/* What today's screen knows, offered to a record and taken over by one press: kit, paint and readings with the time each was read. Never over what somebody typed. */
(() => {
  "use strict";
  const make = window.almanacMake, hand = window.almanacAtHand;
  /* Per kind of record: block → [entry, what of today]. "first" is the first line of a block; "empty" the first line in which none of these stands, or a new one. */
  const AIR = ["air-temperature", "relative-humidity", "surface-temperature", "wind"], POT = ["coating", "paint-temperature", "cup", "seconds", "thinner"], GUN = ["kit", "nozzle", "distance"];
  const TAKES = {
    log: [["conditions", "empty", ["time", ...AIR]], ["surface", "first", ["moisture"]], ["material", "first", [...POT, "mixed-at"]], ["equipment", "first", [...GUN, "flow"]], ["readings", "empty", ["wet-film"]], ["result", "first", ["litres-out"]], ["safety", "first", ["mask"]]],
    recipe: [["recipe", "first", [...POT, ...GUN, "wet-film"]]],
    job: [["kit", "first", ["kit", "flow", "air-temperature", "relative-humidity"]], ["paints", "first", ["coating", "thinner"]]],
    care: [["care", "first", ["coating", "air-temperature"]]],
  };
  const OF = { "wet-film": "tooth", "litres-out": "pot-litres" };

  /* {entry: {text, unit, at}} out of today's situation; a reading of another day is none. */
  const known = ({ situation, worked }) => {
    const kept = window.almanacKept, today = situation.day, out = {}, clock = (at) => at.slice(11);
    const put = (name, text, unit, at) => { if (text !== undefined && text !== null && text !== "") out[name] = { text: String(text), unit: unit || "", at: at || "" }; };
    const fresh = (one) => one && !one.from && one.at.slice(0, 10) === today;
    for (const name of [...AIR, "moisture", "paint-temperature", "nozzle", "distance", "flow", "wet-film", "litres-out"]) {
      const one = kept.get(OF[name] || name);
      if (!fresh(one) || one.value === undefined) continue;
      const parts = /^(.*?[0-9])\s*([a-zµ°%].*)?$/i.exec(one.text) || [];
      put(name, parts[1] || one.value, parts[2] || one.unit, clock(one.at));
    }
    const air = kept.get("air-temperature"), mixed = kept.get("mixed-at"), doses = kept.get("dose"), dose = doses && fresh(doses[doses.length - 1]) ? doses[doses.length - 1] : null, cup = kept.get("cup-time");
    if (fresh(air)) put("time", clock(air.at), "", clock(air.at));
    if (mixed && mixed.text.slice(0, 10) === today) put("mixed-at", mixed.text.slice(11), "", clock(mixed.at));
    if (dose) { put("seconds", dose.seconds, "s", clock(dose.at)); put("thinner", dose.share, "%", clock(dose.at)); } else if (fresh(cup)) { put("seconds", cup.text.replace(/\s*s$/, ""), "s", clock(cup.at)); put("thinner", 0, "%", clock(cup.at)); }
    if (out.seconds) put("cup", (dose && dose.cup) || situation.words.cup || worked.out.held["kit.cup"].text, "", out.seconds.at);
    put("kit", situation.words.kit);
    put("coating", situation.words.coating, "", kept.get("coating") ? clock(kept.get("coating").at) : "");
    if (worked.answers.mask.value) put("mask", worked.answers.mask.value);
    return out;
  };
  /* Whether nobody typed this: it is empty, or holds what an empty form begins with. */
  const untouched = (form, one) => one.held.text === "" || (form.draft && !one.dirty && form.plan.some(([row, field, text]) => row === one.row && field === one.name && text === one.held.text));
  /* [entry, what it would hold] for a form as it stands. A choice that the form does not offer is left out. */
  const offered = (form, from) => (TAKES[form.kind] || []).flatMap(([name, which, entries]) => {
    const block = form.block(name);
    if (!block) return [];
    const rows = form.rows(block), row = which === "first" ? rows[0] : rows.find((one) => entries.every((entry) => { const found = form.find(one, entry); return !found || found.held.text === ""; }));
    if (!row) return [];
    if (which === "empty" && rows.some((one) => entries.every((entry) => { const found = form.find(one, entry); return !found || !from[entry] || found.held.text === from[entry].text; }))) return []; // it is in the record already
    return entries.map((entry) => [form.find(row, entry), from[entry]]).filter(([one, is]) => one && is && untouched(form, one) && one.held.text !== is.text
      && (one.is !== "number" || [one.unit, one.part.dataset.usUnit].includes(is.unit)) && (one.input.tagName !== "SELECT" || [...one.input.options].some((option) => option.value === is.text)));
  });
  const take = (form, list) => {
    for (const [one, is] of list) {
      one.put(is.text, one.is === "number" ? is.unit : "");
      if (one.input.tagName === "SELECT") for (const watch of form.watchers) watch(one.input);
    }
    for (const [one, is] of list) if (one.held.text !== is.text) one.put(is.text, one.is === "number" ? is.unit : ""); // what a choice filled in gives way to what was measured
    form.flush();
    form.after();
  };
  const bar = (form, from) => {
    const list = from ? offered(form, from) : [];
    let part = form.root.querySelector(".alm-offer");
    if (!part) { part = make("div", undefined, { className: "alm-offer" }); form.root.prepend(part); }
    part.hidden = !list.length;
    if (!list.length) { part.replaceChildren(); return; }
    const press = make("button", "Take these over", { type: "button", className: "md-button" });
    press.addEventListener("click", () => { take(form, list); form.told.textContent = `✓ Taken over from today’s screen: ${list.length}. Change what is not so.`; });
    const said = list.map(([one, is]) => `${one.part.querySelector("label").firstChild.textContent.trim().toLowerCase()} ${one.word(is.text)}${one.is === "number" && is.unit !== "1" ? ` ${is.unit}` : ""}${is.at && is.at !== is.text ? ` (${is.at})` : ""}`);
    part.replaceChildren(make("p", `From today’s screen, not in this record yet: ${said.join("; ")}. `), press);
  };
  window.almanacOffer = { known, offered, take };
  if (!hand || !hand.kept) return;
  for (const form of window.almanacForms) {
    if (!TAKES[form.kind]) continue;
    let from = null;
    form.root.addEventListener("almanac-form", () => bar(form, from));
    hand.now().then((found) => { if (!found || !window.almanacKept.fresh()) return; from = known(found); if (form.root.dataset.ready) bar(form, from); window.almanacKept.on(() => hand.now().then((again) => { from = known(again); bar(form, from); })); }, () => {});
  }
})();
