/* Random histories on several devices, merged in random orders, in Node: `node tests/merge.js RUNS SEED` prints what was done, as JSON.
   After all have exchanged all, each device must say the same, every edit that was ever typed must be there, and whatever was typed and not typed over by
   someone who saw it must stand. */
"use strict";
const { readdirSync } = require("fs");
const assets = `${__dirname}/../generators/site/theme/assets`;
if (!readdirSync(assets).includes("journal.js")) throw new Error("no journal.js");
const { Journal, checked, key } = require(`${assets}/journal.js`);
const { write, read } = require(`${assets}/takeout.js`);
const runs = Number(process.argv[2] || 100), seed = Number(process.argv[3] || 1);

let state = seed >>> 0 || 1;
const random = () => { state ^= state << 13; state >>>= 0; state ^= state >>> 17; state ^= state << 5; state >>>= 0; return state / 2 ** 32; };
const below = (n) => Math.floor(random() * n), pick = (list) => list[below(list.length)];
const TEXTS = ["", "1,200", "90 µm", "3.5 mil", "0x10", "12345.67", "né\n  two", "漢😀", "\ud800", "yes", "x".repeat(300), "<b>&", "=1+1", "  "];
const fail = (why) => { console.log(JSON.stringify({ failed: why })); process.exit(1); };

const done = { runs: 0, edits: 0, exchanges: 0, quarrels: 0, removed: 0, returned: 0, erased: 0, files: 0 };
for (let run = 0; run < runs; run += 1) {
  const count = 2 + below(2), typed = new Map(), erased = new Set();
  // Clocks jump: wall time may run backwards and differ by days between the devices. It must decide nothing.
  const devices = Array.from({ length: count }, (_, i) => new Journal(Journal.dev(`device${i}`.padEnd(8, "a")), () => `20${10 + below(80)}-0${1 + below(9)}-1${below(9)}T0${below(9)}:00:00${pick(["+13:00", "-11:00", "+05:30"])}`));
  const recs = ["log-a", "job-b", "care-c"], rows = ["", "r1", "r2", "r3"], fields = ["title", "wet-film", "note"];
  const give = (from, to, how) => {
    let edits = from.edits();
    if (how < 0.3) edits = edits.filter(() => random() < 0.5); // part of it only
    if (how < 0.6) edits = edits.map((edit) => [random(), edit]).sort((a, b) => a[0] - b[0]).map(([, edit]) => edit); // in any order
    if (how < 0.1) edits = [...edits, ...edits]; // twice
    if (how > 0.9) { edits = read(new TextEncoder().encode(write(edits, [], [], "now"))).edits; done.files += 1; } // by way of a file
    for (const edit of edits) to.take(checked(JSON.parse(JSON.stringify(edit))));
    done.exchanges += 1;
  };
  for (let step = 10 + below(40); step > 0; step -= 1) {
    const device = pick(devices), rec = pick(recs), pages = device.records.get(rec), what = random();
    if (what < 0.72) {
      if (device.erased.has(rec)) continue;
      const row = pick(rows);
      const edit = row && !(pages && pages.text(row, "~block")) ? device.type(rec, row, "~block", "lines") : device.type(rec, row, pick(fields), pick(TEXTS), pick(["", "µm", "mil"]));
      typed.set(key(edit), JSON.stringify(edit));
    } else if (what < 0.84) {
      if (!pages) continue;
      const row = pick(["*", "r1", "r2", "r3"]);
      const edit = device.remove(rec, row, random() < 0.7);
      typed.set(key(edit), JSON.stringify(edit));
    } else if (what < 0.86) {
      if (!pages) continue;
      device.erase(rec);
      erased.add(rec);
      done.erased += 1;
    } else if (count > 1) { const other = pick(devices); if (other !== device) give(device, other, random()); }
  }
  // Now all of it to all, twice round, each time in some order.
  for (let round = 0; round < 2; round += 1) for (const from of devices) for (const to of devices) if (from !== to) give(from, to, 0.3 + 0.69 * random());
  const said = devices.map((device) => device.state());
  if (new Set(said).size > 1) fail(`run ${run}: devices differ: ${said.join("\n")}`);
  const all = new Map(devices[0].edits().map((edit) => [key(edit), edit]));
  for (const [name, text] of typed) {
    const edit = JSON.parse(text);
    if (erased.has(edit.rec)) { if (all.has(name)) fail(`run ${run}: an erased record came back`); continue; }
    if (JSON.stringify(all.get(name)) !== text) fail(`run ${run}: ${name} is missing`);
  }
  for (const rec of erased) if (devices[0].records.has(rec)) fail(`run ${run}: ${rec} was erased and stands`);
  // Whatever no later edit of its field had seen stands, first or beside the first. Worked here anew, from the edits alone.
  for (const pages of devices[0].records.values()) {
    const mine = [...pages.edits.values()];
    for (const edit of mine) {
      const over = mine.some((other) => other.row === edit.row && other.field === edit.field && other.prev.includes(key(edit)));
      const found = pages.read(edit.row, edit.field);
      const stands = [found.edit, ...found.others].some((one) => one.text === edit.text && one.unit === edit.unit);
      if (!over && !stands) fail(`run ${run}: ${key(edit)} was typed over by nobody and does not stand`);
      done.quarrels += found.others.length ? 1 : 0;
    }
    for (const { row, gone, back } of pages.rows("lines")) {
      // A line is gone only where every removal is a yes and nothing stands in it that no removal saw.
      const removals = mine.filter((one) => one.row === row && one.field === "~gone" && !mine.some((other) => other.row === row && other.field === "~gone" && other.prev.includes(key(one))));
      const unseen = mine.filter((one) => one.row === row && one.field !== "~gone" && !mine.some((other) => other.row === row && other.field === one.field && other.prev.includes(key(one))) && !removals.some((other) => other.prev.includes(key(one))));
      if (gone !== (removals.length > 0 && removals.every((one) => one.text === "yes") && unseen.length === 0)) fail(`run ${run}: line ${row}`);
      done.removed += gone ? 1 : 0;
      done.returned += back ? 1 : 0;
    }
  }
  done.runs += 1;
  done.edits += typed.size;
}
console.log(JSON.stringify(done));
