// find_pages.js SITE < questions.json: the addresses that the site's own search gives for each question, best first, as JSON. Without a browser, so that hundreds cost a second.
"use strict";
const { told, finder, library, figures, typed } = require("./find_site.js").opened(...process.argv.slice(2)), find = finder(told, library);
process.stdout.write(JSON.stringify(typed.map((question) => find.search(question, true, figures.lean(figures(question))).map((page) => page.at))));
