/* The situation kept on this device: readings as they were typed, each in the set that it stays with, and which of the sets is in hand.
   Sets: day, job, and as many places, pots, pieces and kits as there are; changing one never carries another's readings.
   A reading: { text, at, value, low, high, unit } for a number (value and ends in `unit`), { text, at } else; `at` is local time to the minute. Doses are a list.
   What is kept goes through `shelf` alone, so that another store can take its place. */
(() => {
  "use strict";
  const KEY = "almanac-today", SORTS = ["day", "job", "place", "pot", "pieces", "kit"];
  const shelf = window.almanacShelf || {
    read: () => { try { return localStorage.getItem(KEY); } catch { return null; } },
    write: (text) => { try { localStorage.setItem(KEY, text); return true; } catch { return false; } },
    heard: (told) => addEventListener("storage", (event) => { if (event.key === KEY) told(); }),
  };
  const two = (number) => String(number).padStart(2, "0");
  const local = (when) => `${when.getFullYear()}-${two(when.getMonth() + 1)}-${two(when.getDate())}T${two(when.getHours())}:${two(when.getMinutes())}`;
  const clock = { now: () => local(new Date()) };
  const today = () => clock.now().slice(0, 10);
  const plain = (value) => Boolean(value) && typeof value === "object" && !Array.isArray(value);
  /* Minutes after midnight of the day in hand, without summer time: as the almanac's chain counts them. */
  const minutes = (moment, day) => (Date.parse(`${moment}:00Z`) - Date.parse(`${day}T00:00:00Z`)) / 60000;

  const begin = () => ({ edition: 1, day: null, chosen: { day: "day", job: "job-1", place: "place-1", pot: "pot-1", pieces: "pieces-1", kit: null },
    sets: { day: { day: { name: "", readings: {} } }, job: { "job-1": { name: "", readings: {} } }, place: { "place-1": { name: "", readings: {} } },
      pot: { "pot-1": { name: "", readings: {} } }, pieces: { "pieces-1": { name: "", readings: {} } }, kit: {} } });
  /* A reading that can be counted on: its text, its moment, and figures that are figures. One that is damaged was never read. */
  const sound = (one) => (Array.isArray(one) ? one.length > 0 && one.every((part) => sound(part) && Number.isFinite(part.share) && Number.isFinite(part.seconds))
    : plain(one) && typeof one.text === "string" && one.text.length <= 200 && /^\d{4}-\d\d-\d\dT\d\d:\d\d$/.test(one.at) && ["value", "low", "high"].every((end) => !(end in one) || Number.isFinite(one[end])));
  /* What was kept, if all of it can be read; else a new beginning, and the old text left where it lies until something is typed. */
  const recall = () => {
    try {
      const found = JSON.parse(shelf.read());
      if (!plain(found) || found.edition !== 1 || !plain(found.chosen) || !SORTS.every((sort) => plain(found.sets[sort]))) return begin();
      for (const sort of SORTS) {
        for (const set of Object.values(found.sets[sort])) if (!plain(set) || typeof set.name !== "string" || !plain(set.readings)) return begin();
        for (const set of Object.values(found.sets[sort])) for (const name of Object.keys(set.readings)) if (!sound(set.readings[name])) delete set.readings[name];
        if (found.chosen[sort] !== null && !(found.chosen[sort] in found.sets[sort])) return begin();
      }
      return found;
    } catch { return begin(); }
  };
  let state = recall(), safe = true;
  const heard = [];
  const told = () => { for (const one of heard) one(); };
  const save = () => { safe = shelf.write(JSON.stringify(state)); told(); };
  shelf.heard(() => { state = recall(); told(); });

  const set = (sort) => (state.chosen[sort] === null ? null : state.sets[sort][state.chosen[sort]]);
  const belongs = (name) => window.almanacDay.readings[name].belongs;
  const get = (name) => { for (const sort of SORTS) { const one = set(sort); if (one && name in one.readings) return one.readings[name]; } return undefined; };
  const put = (name, reading) => {
    if (name === "kit") { pick("kit", reading.text); return; }
    let one = set(belongs(name));
    if (!one) return;
    // Another paint is another pot: what was timed and poured stays with the paint that it was read of.
    if (name === "coating" && one.readings.coating && one.readings.coating.text !== reading.text && Object.keys(one.readings).length > 1) { add("pot", ""); one = set("pot"); }
    if (name === "dose") delete one.poured;
    const unit = window.almanacDay.readings[name].unit;
    if (unit) reading = { ...reading, unit };
    if (window.almanacDay.readings[name].many) one.readings[name] = [...(one.readings[name] || []), reading]; else one.readings[name] = reading;
    save();
  };
  /* Of doses the last alone: what was poured before it is still in the pot. */
  const drop = (name) => {
    const one = set(belongs(name));
    if (!one || !(name in one.readings)) return;
    if (Array.isArray(one.readings[name]) && one.readings[name].length > 1) one.readings[name] = one.readings[name].slice(0, -1); else delete one.readings[name];
    save();
  };
  /* Thinner poured into this pot and not timed yet: its share of the paint in all; null once it is timed. Kept, so that nobody pours it twice. */
  const pour = (share) => { const one = set("pot"); if (share === null) delete one.poured; else one.poured = share; save(); };
  const poured = () => { const is = set("pot").poured; return Number.isFinite(is) ? is : null; };
  /* Read again, the same: only the time changes. */
  const same = (name) => { const was = get(name); if (was && !Array.isArray(was)) put(name, { ...was, at: clock.now() }); };
  const pick = (sort, key) => {
    if (sort === "kit" && !(key in state.sets.kit)) state.sets.kit[key] = { name: "", readings: {} };
    if (!(key in state.sets[sort])) return;
    state.chosen[sort] = key;
    if (state.day === null) state.day = today();
    save();
  };
  const add = (sort, name) => {
    let count = Object.keys(state.sets[sort]).length + 1;
    while (`${sort}-${count}` in state.sets[sort]) count += 1;
    const key = `${sort}-${count}`;
    state.sets[sort][key] = { name: name || "", readings: {} };
    state.chosen[sort] = key;
    save();
    return key;
  };
  const call = (sort, name) => { const one = set(sort); if (one && name) { one.name = name.slice(0, 60); save(); } };
  const forget = (sort, key) => { if (state.chosen[sort] !== key) { delete state.sets[sort][key]; save(); } };

  /* A new day: kit and paint count for nothing until they are said again; what was looked up for another day is gone; yesterday's pot stays in the list, a clean one is in hand. */
  const fresh = () => state.day === null || state.day === today();
  const confirm = () => {
    if (!fresh()) {
      const one_day = Object.keys(window.almanacDay.readings).filter((name) => window.almanacDay.readings[name].one_day);
      for (const sort of SORTS) for (const one of Object.values(state.sets[sort])) for (const name of one_day) delete one.readings[name];
      const paint = set("pot") ? set("pot").readings.coating : undefined;
      if (paint && Object.keys(set("pot").readings).length > 1) { add("pot", ""); set("pot").readings.coating = { ...paint, at: clock.now() }; }
    }
    state.day = today();
    save();
  };

  const kit = () => (fresh() ? state.chosen.kit : null);
  /* As the chain wants it: {numbers, words, doses, at, texts, spans, day}. `more` are readings put in for one question only, and kept nowhere. */
  const situation = (more) => {
    const day = today(), out = { numbers: {}, words: {}, doses: [], at: {}, texts: {}, spans: {}, day };
    const all = {};
    for (const sort of SORTS) { const one = set(sort); if (one) Object.assign(all, one.readings); }
    if (kit()) all.kit = { text: state.chosen.kit };
    if (!fresh()) delete all.coating;
    Object.assign(all, more || {});
    all.now = { text: clock.now() };
    for (const name of Object.keys(window.almanacDay.readings)) {
      const reading = window.almanacDay.readings[name], given = all[name];
      if (given === undefined) continue;
      if (reading.options.length && !reading.options.includes(given.text)) continue; // a word or a figure that nobody can have read
      if (reading.kind === "number" && !(given.low >= reading.low && given.value >= given.low && given.value <= given.high && given.high <= reading.high)) continue;
      if (reading.kind === "dose") {
        out.doses = given.map((dose) => ({ share: dose.share, weighed: false, seconds: dose.seconds, temperature: dose.temperature === undefined ? null : dose.temperature, cup: dose.cup || null }));
        out.texts[name] = given.map((dose) => dose.text);
        continue;
      }
      out.texts[name] = given.at && reading.kind !== "time" ? `${given.text}@${given.at}` : given.text;
      if (given.at && reading.kind !== "time") out.at[name] = minutes(given.at, day);
      if (reading.kind === "number") { out.numbers[name] = given.value; if (given.low < given.high) out.spans[name] = [given.low, given.high]; }
      else if (reading.kind === "time") { if (given.text === "none") out.words.rain = "none"; else out.numbers[name] = minutes(given.text, day); }
      else out.words[name] = given.text;
    }
    return out;
  };
  window.almanacKept = {
    get, put, drop, pour, poured, same, pick, add, call, forget, fresh, confirm, kit, situation, minutes, clock, set,
    chosen: (sort) => state.chosen[sort], sets: (sort) => Object.entries(state.sets[sort]), on: (listener) => heard.push(listener), safe: () => safe,
    system: (choice) => {
      try {
        if (choice) localStorage.setItem("almanac-system", JSON.stringify({ is: choice }));
        return (JSON.parse(localStorage.getItem("almanac-system")) || {}).is || (window.almanacDayFacts || { system: "metric" }).system;
      } catch { return (window.almanacDayFacts || { system: "metric" }).system; }
    },
  };
})();
