// Node: the last pots as the phone works them. node last_phone.js assets data.json → for each case its line and figures; for each list of edits its pots.
"use strict";
const fs = require("fs"), path = require("path"), vm = require("vm");
const [assets, file] = process.argv.slice(2);
for (const name of ["chain.js", "last-pots.js"]) vm.runInThisContext(fs.readFileSync(path.join(assets, name), "utf8"), { filename: name });
const { Journal } = require(path.join(assets, "journal.js"));
const { declared, formulas, cases, edits, coating } = JSON.parse(fs.readFileSync(file, "utf8"));
const made = vm.runInThisContext("(() => {" + formulas + "; return almanacFormulas; })()"), { work, said, pots, fields } = globalThis.almanacLastPots;
const plain = (value) => (Number.isFinite(value) ? value : null);
const told = cases.map(({ facts, sheet, pots: some }) => {
  const out = work(fields(facts, sheet), some, declared, made);
  return { line: said("Gannet", out), count: out.held.count.likely, ends: ["more-low", "more", "more-high"].map((name) => plain(out.held[name].likely)) };
});
const journal = new Journal("abcdefghijklmn");
for (const edit of edits) journal.take(edit);
const found = pots([...journal.records.values()].filter((pages) => pages.kind === "log" && !pages.gone("*")), coating, (text) => Number(text));
process.stdout.write(JSON.stringify({ told, pots: found.map((one) => [one.rec, one.row, plain(one.first), plain(one.after), plain(one.dose), one.cup]) }));
