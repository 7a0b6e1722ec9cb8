// find_site.js: the search of a finished site as the phone loads it, for Node. opened(SITE, INDEX) → { told, finder, library, figures, typed }: its index (what INDEX, a file of JSON,
// says in the place of it, for trials), its own scripts, and what stands on standard input.
"use strict";
const fs = require("fs"), path = require("path"), vm = require("vm");
exports.opened = (site, index) => {
  const window = {}, script = (name) => require(path.resolve(site, "assets", name));
  vm.runInNewContext(fs.readFileSync(path.join(site, "assets/search-pages.js"), "utf8"), { window });
  const told = JSON.parse(JSON.stringify(window.almanacSearchPages));
  if (index) Object.assign(told, JSON.parse(fs.readFileSync(index, "utf8")));
  return { told, finder: script("find.js"), library: script("minisearch.js"), figures: script("find-numbers.js"), typed: JSON.parse(fs.readFileSync(0, "utf8")) };
};
