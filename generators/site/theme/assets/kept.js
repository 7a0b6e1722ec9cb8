/* The situation kept on this device: readings as they were typed, each in the set that it stays with, and which of the sets is in hand.
   Sets: day, job, and as many places, pots, pieces and kits as there are; changing one never carries another's readings (sets.js says what they hold).
   It is kept in the journal of records: "kept" is said when that transaction is complete, and not before. A copy in localStorage lets the first screen stand at once and
   names what the journal does not have yet; where the two differ, the journal is right. */
(() => {
  "use strict";
  const KEY = "almanac-today", { SORTS, flat, unflat } = window.almanacSets;
  const copy = {
    read: () => { try { return localStorage.getItem(KEY); } catch { return null; } },
    write: (text) => { try { localStorage.setItem(KEY, text); return true; } catch { return false; } },
  };
  const two = (number) => String(number).padStart(2, "0");
  const local = (when) => `${when.getFullYear()}-${two(when.getMonth() + 1)}-${two(when.getDate())}T${two(when.getHours())}:${two(when.getMinutes())}`;
  const clock = { now: () => local(new Date()) };
  const today = () => clock.now().slice(0, 10);
  /* Minutes after midnight of the day in hand, without summer time: as the almanac's chain counts them. */
  const minutes = (moment, day) => (Date.parse(`${moment}:00Z`) - Date.parse(`${day}T00:00:00Z`)) / 60000;

  /* What the copy holds: [places, those that the journal has not got yet]. The first edition's copy was all there was. */
  const recall = () => {
    try {
      const found = JSON.parse(copy.read());
      if (found.edition === 1) { const places = flat(found); return [places, Object.keys(places)]; }
      if (found.edition === 2 && Array.isArray(found.waiting)) return [found.places, found.waiting];
    } catch { /* nothing that can be read */ }
    return [{}, []];
  };
  let [was, waited] = recall(), state, keeper = null, safe = true, word = "";
  try { state = unflat(was); } catch { [was, waited] = [{}, []]; state = unflat({}); }
  const waiting = new Set(waited), heard = [];
  was = flat(state);
  const told = () => { for (const one of heard) one(); };
  const status = () => (!keeper ? (waiting.size ? { is: "writing", why: "" } : { is: "kept", why: "" }) : keeper.status);
  const mirror = () => { safe = copy.write(JSON.stringify({ edition: 2, places: flat(state), waiting: [...waiting] })); };
  /* What changed since the last time: noted in the copy, and written into the journal. */
  const save = () => {
    const now = flat(state);
    for (const place of new Set([...Object.keys(was), ...Object.keys(now)])) if (was[place] !== now[place]) waiting.add(place);
    was = now;
    mirror();
    if (keeper) write(); else join();
    told();
  };
  const device = () => keeper.journal.dev.slice(0, 8);
  /* What the journal says, and over it what it has not got yet. */
  const settle = () => {
    const places = window.almanacTodayStore.read(keeper.journal, device()), mine = flat(state);
    for (const place of waiting) if (place in mine) places[place] = mine[place]; else delete places[place];
    state = unflat(places);
    was = flat(state);
  };
  const write = () => {
    const now = flat(state), wanted = Object.fromEntries([...waiting].map((place) => [place, place in now ? now[place] : null]));
    for (const edits of window.almanacTodayStore.edits(keeper.journal, device(), wanted, zone())) keeper.keep("today", edits);
    heed();
  };
  const zone = () => { try { return Intl.DateTimeFormat().resolvedOptions().timeZone || ""; } catch { return ""; } };
  const heed = () => {
    const { is } = keeper.status;
    if (is === "kept" && waiting.size) { waiting.clear(); mirror(); }
    if (word !== is) { word = is; told(); }
  };
  let joined = null;
  /* The journal comes after the first look, and only to a device that has one, or has something to keep. */
  const join = () => {
    joined = joined || (async () => {
      await window.almanacBring("journal.js", "keeper.js", "today-store.js");
      await window.almanacKeeper.load("today");
      keeper = window.almanacKeeper;
      settle();
      write();
      mirror();
      keeper.addEventListener("status", heed);
      keeper.addEventListener("news", (event) => { if ([...event.detail].some((rec) => rec.startsWith("today-"))) { settle(); mirror(); told(); } });
      told();
    })().catch(() => { joined = null; });
    return joined;
  };

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
  const same = (name) => { const was = get(name); if (was && !Array.isArray(was)) put(name, here(was)); };
  /* A reading as it is read here and now: nobody else's any more. */
  const here = (reading) => { const mine = { ...reading, at: clock.now() }; delete mine.from; return mine; };
  const pick = (sort, key) => {
    if (sort === "kit" && !(key in state.sets.kit)) state.sets.kit[key] = { name: "", readings: {} };
    if (!(key in state.sets[sort])) return;
    state.chosen[sort] = key;
    if (state.day === null) state.day = today();
    save();
  };
  const add = (sort, name) => {
    let key;
    do key = `${sort}-${Math.random().toString(36).slice(2, 6)}`; while (key in state.sets[sort]); // two pages that begin a set each begin two
    state.sets[sort][key] = { name: name || "", readings: {} };
    state.chosen[sort] = key;
    save();
    return key;
  };
  /* What another phone passed on: a place, a pot, pieces and a job of their own. What was read there counts once it is read again here; kit and paint were chosen by taking it. */
  const bring = (given) => {
    if (given.kit && given.coating && !fresh()) confirm();
    for (const sort of ["place", "pot", "pieces", "job"]) {
      const mine = Object.keys(given).filter((name) => name !== "kit" && belongs(name) === sort);
      if (!mine.length) continue;
      add(sort, "");
      for (const name of mine) set(sort).readings[name] = name === "coating" ? here(given[name]) : given[name];
    }
    if (given.kit) pick("kit", given.kit.text);
    for (const name of Object.keys(given)) if (belongs(name) === "kit" && name !== "kit" && set("kit") && !(name in set("kit").readings)) set("kit").readings[name] = given[name];
    save();
  };
  const call = (sort, name) => { const one = set(sort); if (one && name) { one.name = name.slice(0, 60); save(); } };

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
      if (given === undefined || given.from || (Array.isArray(given) && given.some((one) => one.from))) continue; // another phone's reading counts once it is read again here
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
    get, put, drop, pour, poured, same, pick, add, bring, call, fresh, confirm, kit, situation, minutes, clock, set,
    chosen: (sort) => state.chosen[sort], sets: (sort) => Object.entries(state.sets[sort]), on: (listener) => heard.push(listener), safe: () => safe || Boolean(keeper && keeper.db), status, join,
    system: (choice) => {
      try {
        if (choice) localStorage.setItem("almanac-system", JSON.stringify({ is: choice }));
        return (JSON.parse(localStorage.getItem("almanac-system")) || {}).is || (window.almanacDayFacts || { system: "metric" }).system;
      } catch { return (window.almanacDayFacts || { system: "metric" }).system; }
    },
  };
})();
