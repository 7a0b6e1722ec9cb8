// Node: the job's chain over plain jobs, as the phone walks it. node walk_job.js assets declared.json jobs.json
"use strict";
const fs = require("fs"), path = require("path"), vm = require("vm");
const [assets, data, file] = process.argv.slice(2);
for (const name of ["chain.js", "searches.js", "job-walk.js"]) vm.runInThisContext(fs.readFileSync(path.join(assets, name), "utf8"), { filename: name });
const { declared, formulas } = JSON.parse(fs.readFileSync(data, "utf8"));
const made = vm.runInThisContext("(() => {" + formulas + "; return almanacFormulas; })()");
const plain = (part) => Object.fromEntries(Object.entries(part).map(([name, held]) => [name, held.words ? held.text : [held.low, held.likely, held.high].map((one) => (Number.isFinite(one) ? one : null))]));
const out = JSON.parse(fs.readFileSync(file, "utf8")).map((job) => Object.fromEntries(Object.keys(declared.chains).map((way) => {
  const found = globalThis.almanacJobWalk.work(job, way, declared, made);
  return [way, { held: plain(found.held), parts: Object.fromEntries(Object.entries(found.parts).map(([name, some]) => [name, some.map(plain)])), reasons: globalThis.almanacJobWalk.reasons(found) }];
})));
process.stdout.write(JSON.stringify(out));
