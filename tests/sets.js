// Node: histories of sets and readings on two devices, through the flat list and the journal and back. node sets.js assets count
"use strict";
const path = require("path"), assets = path.resolve(process.argv[2]), count = Number(process.argv[3]);
const { begin, flat, unflat, SORTS } = require(path.join(assets, "sets.js")), store = require(path.join(assets, "today-store.js")), { Journal } = require(path.join(assets, "journal.js"));
let seed = 7;
const random = () => { seed = (seed * 1103515245 + 12345) % 2147483648; return seed / 2147483648; };
const pick = (list) => list[Math.floor(random() * list.length)];
const same = (a, b) => { const sorted = (one) => JSON.stringify(Object.entries(one).sort()); if (sorted(a) !== sorted(b)) throw new Error(`differs:\n${sorted(a)}\n${sorted(b)}`); };
const READINGS = { place: ["air-temperature", "place", "rain-at"], pot: ["coating", "cup-time", "dose"], pieces: ["coats-on", "last-coat-at"], job: ["lead"], day: ["hand"], kit: ["flow"] };
let writes = 0;
const act = (state) => {
  const sort = pick(SORTS), keys = Object.keys(state.sets[sort]);
  const what = random();
  if (what < 0.1 && sort !== "day") { const key = sort === "kit" ? pick(["tote", "Trolley.2"]) : `${sort}-${Math.floor(random() * 1e6).toString(36)}`; if (!state.sets[sort][key]) state.sets[sort][key] = { name: "", readings: {} }; state.chosen[sort] = key; return; }
  if (!keys.length) return;
  const set = state.sets[sort][pick(keys)], name = pick(READINGS[sort]);
  if (what < 0.2) set.name = pick(["Kitchen", "Door <b>", "ä/é", ""]);
  else if (what < 0.3) delete set.readings[name];
  else if (what < 0.35) { if (sort === "pot") set.poured = 5; } else if (what < 0.4) delete set.poured;
  else if (what < 0.45) state.day = "2026-11-26";
  else { const one = { text: `${Math.floor(random() * 99)} °C`, at: "2026-11-26T10:30", value: 1, low: 1, high: 1, unit: "°C" }; set.readings[name] = name === "dose" ? [{ ...one, share: 5, seconds: 40 }] : one; }
};
for (let round = 0; round < count; round += 1) {
  const clock = () => "2026-11-26T10:30:00+00:00", here = new Journal(Journal.dev("aaaaaaaa"), clock), there = new Journal(Journal.dev("bbbbbbbb"), clock);
  let state = begin(), was = {};
  for (let turn = 0; turn < 40; turn += 1) {
    act(state);
    const now = flat(state);
    same(flat(unflat(now)), now);
    const wanted = {};
    for (const place of new Set([...Object.keys(was), ...Object.keys(now)])) if (was[place] !== now[place]) wanted[place] = place in now ? now[place] : null;
    for (const list of store.edits(here, "aaaaaaaa", wanted, "Europe/London")) { if (new Set(list.map((edit) => edit.rec)).size !== 1) throw new Error("one act, one record"); writes += list.length; }
    was = now;
    const told = store.read(here, "aaaaaaaa");
    same(flat(unflat(told)), now);
    state = unflat(told);
  }
  // The whole of it in a file, read on another phone: every set comes, no reading counts, and what is chosen there stays.
  for (const edit of here.edits()) there.take(edit);
  const alien = store.read(there, "bbbbbbbb"), seen = unflat(alien);
  for (const sort of SORTS) for (const set of Object.values(seen.sets[sort])) for (const reading of Object.values(set.readings)) if (!(Array.isArray(reading) ? reading[0] : reading).from) throw new Error("a reading of another phone counts here");
  const theirs = Object.values(state.sets.pot).reduce((sum, set) => sum + Object.keys(set.readings).length, 0), mine = Object.values(seen.sets.pot).reduce((sum, set) => sum + Object.keys(set.readings).length, 0);
  if (theirs !== mine) throw new Error("a reading was lost on the way");
  // Read again there: it stands in that set's own record, and is that phone's.
  const place = Object.keys(alien).find((one) => one.startsWith("place/") && !one.includes("~"));
  if (place) {
    const again = JSON.parse(alien[place]);
    delete again.from;
    const lists = store.edits(there, "bbbbbbbb", { [place]: JSON.stringify(again) }, "");
    if (lists.length !== 1 || !there.records.has(lists[0][0].rec)) throw new Error("a set of its own for one reading");
    const now = JSON.parse(store.read(there, "bbbbbbbb")[place]);
    if (now.from) throw new Error("read again here, and not counted");
  }
}
process.stdout.write(JSON.stringify({ writes }));
