// Node: any chain, walked as the phone walks one. node walk_any.js assets cases.json
"use strict";
const fs = require("fs"), path = require("path"), vm = require("vm");
const [assets, file] = process.argv.slice(2);
vm.runInThisContext(fs.readFileSync(path.join(assets, "chain.js"), "utf8"), { filename: "chain.js" });
const { cases, formulas } = JSON.parse(fs.readFileSync(file, "utf8"));
const made = vm.runInThisContext("(() => {" + formulas + "; return almanacFormulas; })()");
const number = (one) => (one === null ? NaN : one);
const read = (one) => ({ ...one, low: number(one.low), likely: number(one.likely), high: number(one.high) });
const tell = (one) => ({ ...one, low: Number.isFinite(one.low) ? one.low : null, likely: Number.isFinite(one.likely) ? one.likely : null, high: Number.isFinite(one.high) ? one.high : null, why: Boolean(one.why) });
const each = (held, act) => Object.fromEntries(Object.entries(held).map(([name, one]) => [name, act(one)]));
const searches = { "the nearer": ({ one, other, pots }) => ({ near: Math.min(one, other, ...pots.map((part) => part.amount)), pots: pots.map((part) => ({ share: part.amount / one })) }) };
const out = cases.map(({ chain, held, parts, studies }) => {
  const found = globalThis.almanacWalk.walk(chain, made, each(held, read), each(parts, (some) => some.map((part) => each(part, read))), studies, searches);
  const verdicts = each(found.verdicts, (one) => [one.outcome, one.speaking.map(({ test, missing, stale }) => [test.name, missing, stale])]);
  return { held: each(found.held, tell), parts: each(found.parts, (some) => some.map((part) => each(part, tell))), verdicts };
});
process.stdout.write(JSON.stringify(out));
