// find_pages.js SITE < questions.json: the addresses that the site's own search gives for each question, best first, as JSON. Without a browser, so that hundreds cost a second.
"use strict";
const fs = require("fs"), path = require("path"), vm = require("vm");
const site = process.argv[2], window = {};
vm.runInNewContext(fs.readFileSync(path.join(site, "assets/search-pages.js"), "utf8"), { window });
const told = JSON.parse(JSON.stringify(window.almanacSearchPages));
if (process.argv[3]) Object.assign(told, JSON.parse(fs.readFileSync(process.argv[3], "utf8")));
const find = require(path.resolve(site, "assets/find.js"))(told, require(path.resolve(site, "assets/minisearch.js")));
const figures = require(path.resolve(site, "assets/find-numbers.js"));
const asked = JSON.parse(fs.readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(asked.map((question) => find.search(question, true, figures.lean(figures(question))).map((page) => page.at))));
