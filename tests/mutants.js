// Node: what could be spoiled in a script, one thing at a time. node mutants.js espree FILE → [{start, end, text, words}] as JSON
"use strict";
const fs = require("fs");
const [parser, file] = process.argv.slice(2), source = fs.readFileSync(file, "utf8");
const tree = require(parser).parse(source, { ecmaVersion: "latest", range: true, loc: true });
const SWAPPED = { "+": "-", "-": "+", "*": "/", "/": "*", "<": "<=", "<=": "<", ">": ">=", ">=": ">", "===": "!==", "!==": "===", "&&": "||", "||": "&&", "??": "&&" };
const NAMES = { min: "max", max: "min", floor: "ceil", ceil: "floor", every: "some", some: "every", low: "high", high: "low" };
const found = [];
const add = (start, end, text, line, words) => found.push({ start, end, text, words: `line ${line}: ${words}` });
(function walk(node) {
  if (!node || typeof node.type !== "string") return;
  const line = node.loc.start.line;
  if (["BinaryExpression", "LogicalExpression"].includes(node.type) && SWAPPED[node.operator]) {
    const between = source.slice(node.left.range[1], node.right.range[0]), at = node.left.range[1] + between.indexOf(node.operator);
    add(at, at + node.operator.length, SWAPPED[node.operator], line, `${node.operator} to ${SWAPPED[node.operator]}`);
  }
  if (node.type === "UnaryExpression" && node.operator === "!") add(node.range[0], node.range[0] + 1, "", line, "! left out");
  if (node.type === "Literal" && typeof node.value === "number") add(node.range[0], node.range[1], Number.isInteger(node.value) ? String(node.value + 1) : String(node.value * 1.1), line, `${node.raw} moved`);
  if (node.type === "Literal" && typeof node.value === "boolean") add(node.range[0], node.range[1], String(!node.value), line, `${node.raw} turned`);
  if (node.type === "MemberExpression" && !node.computed && NAMES[node.property.name]) add(...node.property.range, NAMES[node.property.name], line, `${node.property.name} to ${NAMES[node.property.name]}`);
  if (node.type === "ConditionalExpression") add(...node.test.range, `!(${source.slice(...node.test.range)})`, line, "a choice turned");
  if (node.type === "IfStatement") add(...node.test.range, `!(${source.slice(...node.test.range)})`, line, "an if turned");
  for (const key of Object.keys(node)) if (key !== "loc" && key !== "range") [node[key]].flat().forEach((one) => one && typeof one === "object" && walk(one));
})(tree);
process.stdout.write(JSON.stringify(found));
