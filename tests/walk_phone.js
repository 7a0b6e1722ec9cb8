// Node: the phone's own scripts, walked over situations from a file; answers as JSON. node walk_phone.js assets day.json situations.json system
"use strict";
const fs = require("fs"), path = require("path"), vm = require("vm");
const [assets, data, file, system] = process.argv.slice(2);
for (const name of ["chain.js", "today.js"]) vm.runInThisContext(fs.readFileSync(path.join(assets, name), "utf8"), { filename: name });
const { day, facts, formulas } = JSON.parse(fs.readFileSync(data, "utf8"));
const declared = vm.runInThisContext("(() => {" + formulas + "; return almanacFormulas; })()");
const plain = (key, value) => (typeof value === "number" && !Number.isFinite(value) ? null : value);
const out = JSON.parse(fs.readFileSync(file, "utf8")).map((situation) => {
  const { verdict, answers, out } = globalThis.almanacToday.answers(day, declared, facts, situation, system);
  const tests = {};
  for (const name of Object.keys(out.verdicts)) tests[name] = [out.verdicts[name].outcome, out.verdicts[name].speaking.map((one) => one.test.name)];
  return { verdict, answers, tests };
});
process.stdout.write(JSON.stringify(out, plain));
