// measure_search.js SITE [INDEX] < folds.json: how well each page fits each question, by the measures of find.js, for fitting their weights.
// In: lists of questions, one list for each fold. Out: { names, pages: [[address, kind]], folds: [[[[page's place, measures…] …] …] …] }.
// Before a fold is measured, every phrase that is nearly one of its questions is taken out of the index: what was learnt by heart proves nothing.
"use strict";
const { told, finder, library, figures, typed: folds } = require("./find_site.js").opened(...process.argv.slice(2)), { stems, names } = finder(told, library), NEAR = 0.6;
const near = (a, b) => { let both = 0; for (const word of a) if (b.has(word)) both += 1; return both >= NEAR * (a.size + b.size - both); };
const places = new Map(told.pages.map((page, place) => [page.at, place]));
const measured = folds.map((questions) => {
  const left = questions.map((question) => new Set(stems(question)));
  const pages = told.pages.map((page) => ({ ...page, asked: page.asked.filter((phrase) => { const words = new Set(stems(phrase)); return !left.some((one) => near(one, words)); }) }));
  const find = finder({ ...told, pages }, library);
  return questions.map((question) => [...(find.measure(question, true, figures.lean(figures(question))) || { fit: [] }).fit].map(([at, is]) => [places.get(at), ...[...is].map((much) => Number(much.toFixed(4)))]));
});
process.stdout.write(JSON.stringify({ names, pages: told.pages.map((page) => [page.at, page.kind]), folds: measured }));
