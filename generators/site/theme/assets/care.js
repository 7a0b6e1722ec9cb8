/* The care sheet: days from the handbook's figures for the coating, stretched by the cold, as dates that a customer can keep. */
(() => {
  "use strict";
  const facts = window.almanacJobFacts;
  const make = window.almanacMake;
  const show = (form) => {
    const out = form.root.querySelector('[data-out="care"]'), row = form.rows(form.block("care"))[0];
    const words = form.words(row), air = form.figures(row)["air-temperature"], tin = facts.coatings[words.coating];
    const care = tin ? tin.care : null;
    if (!care || !/^\d{4}-\d\d-\d\d$/.test(words.finished)) {
      out.replaceChildren(make("h2", "Care and cure"), make("p", "– Choose the paint and the day it was finished. For a paint that is not in the handbook, copy the days from its data sheet."));
      return;
    }
    const [stretch, reason] = Number.isNaN(air) ? [NaN, "no air temperature"] : window.almanacFormulas["cure-stretch"].work({ "air-temperature": air });
    const longer = reason ? 1 : Math.max(1, stretch); // warm air is not counted on
    const day = (days) => { const when = new Date(`${words.finished}T12:00:00Z`); when.setUTCDate(when.getUTCDate() + Math.ceil(days * longer - 1e-9)); return when.toLocaleDateString(document.documentElement.lang || "en", { weekday: "long", day: "numeric", month: "long", year: "numeric", timeZone: "UTC" }); };
    const list = document.createElement("ul");
    for (const line of [`Use it with care from ${day(care.careful)}.`, `Wash it from ${day(care.wash)}: a soft cloth, warm water, a drop of washing-up liquid. Nothing that scours.`, `It is as hard as it gets from ${day(care.full)}. Until then nothing heavy, hot or sticky on it.`, care.words]) list.append(make("li", line));
    if (words["touch-up"] === "yes") list.append(make("li", "Your touch-up pot: stir it, use a small brush, and do not let it freeze."));
    out.replaceChildren(make("h2", "Care and cure"), make("p", [words.title, [tin.name, words.named].filter(Boolean).join(", "), words.batch && `batch ${words.batch}`, words.film && `wet film ${words.film}`].filter(Boolean).join(". ")), list,
      make("p", `${reason ? `△ The days are for ${form.system === "us" ? "73 °F" : "23 °C"}: ${reason}.` : longer > 1 ? `The days are made longer for the cold, by a rule that doubles them for each ${form.system === "us" ? "18 °F" : "ten degrees"}. Damp air adds more.` : "Colder or damper air makes them longer."} The paint's own data sheet comes before this page.${words.who ? ` Ask: ${words.who}.` : ""}`));
  };
  for (const form of window.almanacForms.filter((one) => one.kind === "care")) form.root.addEventListener("almanac-form", () => show(form));
})();
