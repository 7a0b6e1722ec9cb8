/* The daily log: dew margins and film readings worked under it, CSV of one day, and from it a recipe or a care sheet in one tap. */
(() => {
  "use strict";
  const make = window.almanacMake;
  const brief = (value) => (Number.isFinite(value) ? Number(value.toPrecision(3)).toString().replace("-", "−") : "–");
  const SHORT = "almanac-log-short";
  const entryOf = (form, name) => [form.root, ...form.blocks.map((block) => block.blank)].map((part) => part.querySelector(`.alm-entry[data-name="${name}"]`)).find(Boolean);
  const shown = (value, form, entry, places) => { const out = form.system === "us" ? (value - Number(entry.dataset.offset)) / Number(entry.dataset.scale) : value; return `${out.toFixed(places).replace("-", "−")} ${form.system === "us" ? entry.dataset.usUnit : entry.dataset.unit}`; };

  /* A comb may be read as a range: its low end counts for the lowest, its middle for the mean. What cannot be read as a film is told, and nothing is worked without it. */
  const film = (form) => {
    const rows = form.rows(form.block("readings")).map((row) => form.readings(row)["wet-film"]);
    const bad = rows.map((one, place) => (one && !(one.low > 0 && Number.isFinite(one.high)) ? place + 1 : 0)).filter(Boolean);
    const good = rows.filter((one) => one && one.value !== null);
    return { bad, count: good.length, mean: bad.length ? NaN : good.reduce((sum, one) => sum + one.value, 0) / good.length, low: bad.length ? NaN : Math.min(...good.map((one) => one.low)) };
  };
  const MARKS = { go: "✓", care: "△ take care:", unknown: "? not known:", stop: "✕ stop:" };
  /* One reading of the air as the day's chain answers it: the margin, the verdict on air and surface, and why. Nothing is worked here. */
  const reading = (form, figures, coating) => {
    const ask = window.almanacDayAnswers, names = ["surface-temperature", "air-temperature", "relative-humidity"];
    const situation = { numbers: Object.fromEntries(names.map((name) => [name, figures[name]])), words: coating ? { coating } : {}, doses: [], at: {}, texts: {}, spans: {} };
    return ask.ready(situation).then(() => {
      const { out } = ask.work(situation, form.system), asked = out.verdicts["air-surface"], margin = out.held.margin.likely;
      const unit = window.almanacDay.us["Δ°C"], degrees = form.system === "us" ? margin * unit[1] : margin;
      const told = Number.isNaN(margin) ? `– ${out.held.margin.why}` : `${(Math.floor(degrees * 10 + 1e-9) / 10).toFixed(1).replace("-", "−")} ${form.system === "us" ? "°F" : "°C"} over the dew point`;
      const first = asked.speaking[0], why = first ? ` ${window.almanacToday.words(window.almanacDay, out, first, form.system)[0]}` : ` ${asked.verdict.go}`;
      return `${told}. ${MARKS[asked.outcome]}${why}`;
    });
  };
  /* How the last pots of this paint thinned, against the handbook. Empty where none was timed. */
  const lastPots = (coating) => (coating && window.almanacRecords.live("log").some((pages) => pages.rows("pots").length)
    ? window.almanacBring("last-pots.js").then(() => window.almanacLastPots.line(coating)).catch(() => "– What the last pots say did not load; open the page again.") : "");
  let turn = 0;
  const work = (form) => {
    const mine = ++turn, coating = form.held().coating.text;
    const told = form.rows(form.block("conditions")).map((row, place) => {
      const figures = form.figures(row);
      if (["surface-temperature", "air-temperature", "relative-humidity"].some((name) => Number.isNaN(figures[name]))) return null;
      return reading(form, figures, coating).then((line) => `Reading ${place + 1}: ${line}`, () => `Reading ${place + 1}: – the day's chain did not load; open the page again.`);
    }).filter(Boolean);
    Promise.all([...told, lastPots(coating)]).then((lines) => { if (mine === turn) show(form, lines.filter(Boolean)); });
  };
  const show = (form, lines) => {
    const wet = film(form), entry = entryOf(form, "wet-film");
    const places = form.system === "us" ? 2 : 0;
    for (const place of wet.bad) lines.push(`– Reading ${place} of the film is not one that can be read: mean and lowest wait for it.`);
    if (wet.count && !wet.bad.length) lines.push(`Wet film, ${wet.count} readings: mean ${shown(wet.mean, form, entry, places)}, lowest ${shown(wet.low, form, entry, places)}.`);
    const took = form.figures(form.rows(form.block("result"))[0]);
    const used = took["litres-out"] - (Number.isFinite(took["litres-back"]) ? took["litres-back"] : 0);
    if (used > 0 && took.done > 0) lines.push(form.system === "us" ? `${brief(took.done / Number(entryOf(form, "done").dataset.scale) / (used / Number(entryOf(form, "litres-out").dataset.scale)))} ft² from a quart.` : `${brief(took.done / used)} m² from a litre.`);
    const list = document.createElement("ul");
    for (const line of lines) list.append(make("li", line));
    form.root.querySelector('[data-out="worked"]').replaceChildren(make("h2", "Worked from it"), lines.length ? list : make("p", "Dew margins and the film's mean and lowest come here."));
  };

  /* A cell that a spreadsheet does not run. */
  const cell = (text) => { const bare = /^\s*[=+\-@＝＋＠\t\r\n]/.test(text) && !/^-?\d+([.,]\d+)?$/.test(text) ? `'${text}` : text; return /[",;\r\n]/.test(bare) ? `"${bare.replaceAll('"', '""')}"` : bare; };
  /* One day as rows: every figure as it was typed, in the unit that stood beside it. */
  const csv = (form) => {
    const rows = [["part", "line", "what", "unit", "value"]];
    for (const block of form.blocks) form.rows(block).forEach((row, place) => {
      for (const one of form.entries(row)) {
        if (one.is === "photo") continue;
        rows.push([block.part.querySelector("legend").textContent, String(place + 1), one.part.querySelector("label").firstChild.textContent.trim(), one.is === "number" ? one.held.unit || one.target : "", one.word(one.held.text)]);
      }
    });
    const day = form.root.querySelector(".alm-day").textContent;
    if (day) rows.push(["Day and zone", "", "", "", day]);
    for (const line of form.root.querySelectorAll('[data-out="worked"] li')) rows.push(["Worked from it", "", "", "", line.textContent]);
    return rows.map((row) => row.map(cell).join(",")).join("\n") + "\n";
  };
  window.almanacLog = { csv };

  const keeper = window.almanacKeeper;
  const start = (form, kind, fields) => {
    window.almanacRecords.start(kind, fields);
    const link = make("a", kind === "recipe" ? "open the recipes" : "open the care sheet");
    link.href = kind === "recipe" ? "recipes.html" : "handover.html";
    const say = () => {
      const { is, why } = keeper.status;
      if (is === "writing") return;
      keeper.removeEventListener("status", say);
      form.told.textContent = is === "kept" ? (kind === "recipe" ? "✓ Kept as a recipe: " : "✓ Care sheet begun: ") : `✕ Not kept: ${why}.`;
      if (is === "kept") form.told.append(link);
    };
    keeper.addEventListener("status", say);
    say();
  };
  const pick = (from, names) => Object.fromEntries(names.filter((name) => from[name]).map((name) => [name, from[name]]));
  const said = (text) => ({ text, unit: "" });

  for (const form of window.almanacForms.filter((one) => one.kind === "log")) {
    const short = (on) => {
      form.root.classList.toggle("alm-short", on);
      form.root.querySelector('[data-do="short"]').textContent = on ? "Long form" : "Short form";
    };
    let kept = null;
    try { kept = localStorage.getItem(SHORT); } catch { /* nothing is kept here */ }
    short(kept !== "no"); // what a minute and a half can hold; what is typed into the long form shows in this one, too
    form.root.addEventListener("almanac-form", () => work(form));
    form.root.addEventListener("almanac-do", (event) => {
      const { what } = event.detail;
      if (what === "short") {
        const on = !form.root.classList.contains("alm-short");
        short(on);
        try { localStorage.setItem(SHORT, on ? "yes" : "no"); } catch { /* it opens short next time */ }
        return;
      }
      form.flush();
      const held = form.held(), wet = film(form), entry = entryOf(form, "wet-film"), known = wet.count > 0 && !wet.bad.length;
      const mean = form.system === "us" ? (wet.mean - Number(entry.dataset.offset)) / Number(entry.dataset.scale) : wet.mean, places = form.system === "us" ? 2 : 0;
      if (what === "csv") window.almanacSave(`log-${held.date.text || "day"}.csv`, csv(form), "text/csv");
      else if (what === "recipe") start(form, "recipe", { ...pick(held, ["coating", "named", "date", "batch", "kit", "paint-temperature", "cup", "seconds", "thinner", "nozzle", "distance"]), surface: said(held.area.text || held.title.text), "wet-film": known ? { text: Number(mean.toPrecision(3)).toString(), unit: form.system === "us" ? entry.dataset.usUnit : entry.dataset.unit } : said(""), result: held.seen, notes: held.faults });
      else if (what === "care") {
        const air = form.rows(form.block("conditions")).map((row) => form.find(row, "air-temperature").held).filter((one) => one.text).at(-1);
        start(form, "care", { ...pick(held, ["title", "coating", "named", "batch"]), finished: held.date, "air-temperature": air || said(""), film: said(known ? `${shown(wet.mean, form, entry, places)}, lowest ${shown(wet.low, form, entry, places)}` : ""), who: held.operator });
      }
    });
  }
})();
