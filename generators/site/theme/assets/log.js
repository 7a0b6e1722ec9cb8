/* The daily log: dew margins and film readings worked under it, CSV of one day, and from it a recipe or a care sheet in one tap. */
(() => {
  "use strict";
  const make = window.almanacMake;
  const brief = (value) => (Number.isFinite(value) ? Number(value.toPrecision(3)).toString().replace("-", "−") : "–");
  const SHORT = "almanac-log-short";
  const entryOf = (form, name) => form.root.querySelector(`.alm-entry[data-name="${name}"]`);
  const shown = (value, form, entry, places) => { const out = form.system === "us" ? (value - Number(entry.dataset.offset)) / Number(entry.dataset.scale) : value; return `${out.toFixed(places).replace("-", "−")} ${form.system === "us" ? entry.dataset.usUnit : entry.dataset.unit}`; };

  const film = (form) => {
    const values = form.rows(form.block("readings")).map((row) => form.figures(row)["wet-film"]).filter((value) => value > 0);
    return values.length ? { count: values.length, mean: values.reduce((sum, value) => sum + value, 0) / values.length, low: Math.min(...values) } : null;
  };
  const work = (form) => {
    const lines = [];
    form.rows(form.block("conditions")).forEach((row, place) => {
      const figures = form.figures(row);
      const given = { "surface-temperature": figures["surface-temperature"], "air-temperature": figures["air-temperature"], "relative-humidity": figures["relative-humidity"] };
      if (Object.values(given).some((value) => Number.isNaN(value))) return;
      const [margin, reason] = window.almanacFormulas["dew-margin"].work(given);
      // A margin is rounded down.
      const degrees = entryOf(form, "surface-temperature"), scale = Number(degrees.dataset.scale);
      const told = reason ? `– ${reason}` : `${(Math.floor((form.system === "us" ? margin / scale : margin) * 10 + 1e-9) / 10).toFixed(1).replace("-", "−")} ${form.system === "us" ? degrees.dataset.usUnit : degrees.dataset.unit} over the dew point`;
      lines.push(`Reading ${place + 1}: ${told}.`);
    });
    const wet = film(form), entry = entryOf(form, "wet-film");
    const places = form.system === "us" ? 2 : 0;
    if (wet) lines.push(`Wet film, ${wet.count} readings: mean ${shown(wet.mean, form, entry, places)}, lowest ${shown(wet.low, form, entry, places)}.`);
    const took = form.figures(form.rows(form.block("result"))[0]);
    const used = took["litres-out"] - (Number.isFinite(took["litres-back"]) ? took["litres-back"] : 0);
    if (used > 0 && took.done > 0) lines.push(form.system === "us" ? `${brief(took.done / Number(entryOf(form, "done").dataset.scale) / (used / Number(entryOf(form, "litres-out").dataset.scale)))} ft² from a quart.` : `${brief(took.done / used)} m² from a litre.`);
    const list = document.createElement("ul");
    for (const line of lines) list.append(make("li", line));
    form.root.querySelector('[data-out="worked"]').replaceChildren(make("h2", "Worked from it"), lines.length ? list : make("p", "Dew margins and the film's mean and lowest come here."));
  };

  /* A cell that a spreadsheet does not run. */
  const cell = (text) => { const bare = /^\s*[=+\-@＝＋＠\t\r\n]/.test(text) && !/^-?\d+([.,]\d+)?$/.test(text) ? `'${text}` : text; return /[",;\r\n]/.test(bare) ? `"${bare.replaceAll('"', '""')}"` : bare; };
  const csv = (form) => {
    const rows = [["part", "line", "what", "unit", "value"]];
    for (const block of form.blocks) form.rows(block).forEach((row, place) => {
      for (const entry of form.entries(row)) {
        const input = form.input(entry), value = input.type === "checkbox" ? (input.checked ? "yes" : "") : input.tagName === "SELECT" ? (input.selectedOptions[0] || {}).textContent || "" : input.value;
        rows.push([block.part.querySelector("legend").textContent, String(place + 1), entry.querySelector("label").firstChild.textContent.trim(), entry.dataset.unit ? (form.system === "us" ? entry.dataset.usUnit : entry.dataset.unit) : "", value]);
      }
    });
    for (const line of form.root.querySelectorAll('[data-out="worked"] li')) rows.push(["Worked from it", "", "", "", line.textContent]);
    return rows.map((row) => row.map(cell).join(",")).join("\n") + "\n";
  };
  window.almanacLog = { csv };

  const start = (form, kind, fields) => {
    const now = new Date().toISOString();
    const record = { id: window.almanacNewId(kind), kind, system: form.system, made: now, changed: now, fields, lines: {} };
    if (!window.almanacRecords.put(record)) { form.told.textContent = "✕ Not kept: this device has no room."; return; }
    window.almanacLately(kind, record.id);
    form.told.textContent = kind === "recipe" ? "✓ Kept as a recipe: " : "✓ Care sheet begun: ";
    const link = make("a", kind === "recipe" ? "open the recipes" : "open the care sheet");
    link.href = kind === "recipe" ? "recipes.html" : "handover.html";
    form.told.append(link);
  };
  const pick = (from, names) => Object.fromEntries(names.map((name) => [name, from[name] || ""]));

  for (const form of window.almanacForms.filter((one) => one.kind === "log")) {
    const short = (on) => {
      form.root.classList.toggle("alm-short", on);
      form.root.querySelector('[data-do="short"]').textContent = on ? "Long form" : "Short form";
      try { localStorage.setItem(SHORT, on ? "yes" : "no"); } catch { /* it opens long next time */ }
    };
    let kept = null;
    try { kept = localStorage.getItem(SHORT); } catch { /* nothing is kept here */ }
    short(kept === "yes");
    form.root.addEventListener("almanac-form", () => work(form));
    form.root.addEventListener("almanac-do", (event) => {
      const { what } = event.detail, fields = form.collect().fields, wet = film(form), entry = entryOf(form, "wet-film");
      const mean = wet ? (form.system === "us" ? (wet.mean - Number(entry.dataset.offset)) / Number(entry.dataset.scale) : wet.mean) : NaN;
      if (what === "short") short(!form.root.classList.contains("alm-short"));
      else if (what === "csv") window.almanacSave(`log-${fields.date || "day"}.csv`, csv(form), "text/csv");
      else if (what === "recipe") start(form, "recipe", { ...pick(fields, ["coating", "named", "date", "batch", "kit", "paint-temperature", "cup", "seconds", "thinner", "nozzle", "distance"]), surface: fields.area || fields.title || "", "wet-film": wet ? Number(mean.toPrecision(3)).toString() : "", result: fields.seen || "", notes: fields.faults || "" });
      else if (what === "care") start(form, "care", { ...pick(fields, ["title", "coating", "named", "batch"]), finished: fields.date || "", "air-temperature": (form.rows(form.block("conditions")).map((row) => form.input(form.entries(row).find((one) => one.dataset.name === "air-temperature")).value).filter(Boolean).at(-1) || ""), film: wet ? `${shown(wet.mean, form, entry, form.system === "us" ? 2 : 0)}, lowest ${shown(wet.low, form, entry, form.system === "us" ? 2 : 0)}` : "", who: fields.operator || "" });
    });
  }
})();
