// Node: own kits and paints as the phone checks and tells them. node own_phone.js assets data.json things.json
"use strict";
const fs = require("fs"), path = require("path"), vm = require("vm");
const [assets, data, file] = process.argv.slice(2), given = JSON.parse(fs.readFileSync(data, "utf8"));
globalThis.window = globalThis;
vm.runInThisContext(given.grammar);
vm.runInThisContext(fs.readFileSync(path.join(assets, "typed.js"), "utf8"));
globalThis.almanacOwnFields = given.own;
const own = require(path.resolve(assets, "own.js"));
const out = JSON.parse(fs.readFileSync(file, "utf8")).map(([sort, held, date]) => {
  const { problems, missing, values } = own.check(sort, held);
  return { problems, missing, stops: sort === "coating" ? own.stops(held) : [], ...(problems.length || missing.length ? {} : own.facts(sort, held, values, date)) };
});
process.stdout.write(JSON.stringify(out));
