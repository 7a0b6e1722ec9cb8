/* Recipes: what worked, found again in ten seconds; and one of them written as the file that the whole crew's handbook reads. */
(() => {
  "use strict";
  const facts = window.almanacJobFacts;
  const make = window.almanacMake;
  const plain = (value) => Number(value.toPrecision(6)).toString();

  /* A record as YAML. Texts are written as JSON texts, which YAML reads as they are. Returns [text, what is missing]. */
  const yaml = (fields, figures, day, units = {}) => {
    // As it was typed, where that is one plain figure with a unit of a form; else in the handbook's own.
    const measured = (name, unit) => (/^-?\d+(\.\d+)?$/.test(fields[name] || "") && ["°C", "°F", "mm", "in", "µm", "mil"].includes(units[name]) ? `${fields[name]} ${units[name]}` : `${plain(figures[name])} ${unit}`);
    const missing = [];
    // Half a letter and what no keyboard writes are left out: no YAML holds them.
    const clean = (text, most) => text.slice(0, most).replace(/\p{Surrogate}/gu, "").replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029\ufeff\ufffe\uffff]/g, " ").trim();
    const need = (name, words) => { if (!fields[name]) missing.push(words); return fields[name] || ""; };
    const coating = need("coating", "a coating of the handbook"), date = need("date", "the day"), cup = need("cup", "the cup"), result = need("result", "how it came out");
    // A record may have come in a file from anywhere: only names that this handbook knows are written bare.
    if (coating && !Object.hasOwn(facts.coatings, coating)) missing.push("a coating of this handbook");
    if (cup && !Object.hasOwn(facts.cups, cup)) missing.push("a cup of this handbook");
    if (fields.kit && !Object.hasOwn(facts.kits, fields.kit)) missing.push("a kit of this handbook, or none");
    if (date && !/^\d{4}-\d\d-\d\d$/.test(date)) missing.push("a day such as 2026-11-25");
    if (!(figures.seconds > 0)) missing.push("the seconds");
    if (!(figures.thinner >= 0)) missing.push("the thinner, or 0");
    if (result && !clean(result, 2000)) missing.push("how it came out");
    if (missing.length) return ["", missing];
    const lines = [`# From a record of ${day}, kept on a device.`, "basis: measured", `date: ${date}`, `coating: ${coating}`];
    if (fields.kit) lines.push(`kit: ${fields.kit}`);
    const words = (name, key, most) => { const text = clean(fields[key], most); if (text) lines.push(`${name}: ${JSON.stringify(text)}`); };
    for (const key of ["batch", "surface", "result", "notes"]) fields[key] = fields[key] || "";
    words("batch", "batch", 60);
    words("surface", "surface", 60);
    if (Number.isFinite(figures["paint-temperature"])) lines.push(`temperature: ${measured("paint-temperature", "°C")}`);
    lines.push(`time: ${plain(figures.seconds)} s in ${cup}`, `thinner: ${plain(figures.thinner)} %`);
    for (const [name, key, unit] of [["nozzle", "nozzle", "mm"], ["distance", "distance", "mm"], ["wet_film", "wet-film", "µm"]]) if (figures[key] > 0) lines.push(`${name}: ${measured(key, unit)}`);
    words("result", "result", 2000);
    words("notes", "notes", 2000);
    return [lines.join("\n") + "\n", []];
  };
  window.almanacRecipes = { yaml };

  for (const form of window.almanacForms.filter((one) => one.kind === "recipe")) {
    const row = () => form.rows(form.block("recipe"))[0];
    const out = form.root.querySelector('[data-out="yaml"]');
    const list = document.querySelector(".alm-recipes"), seek = document.getElementById("alm-seek");
    const bare = (unit) => unit.replace("Δ", "");
    const told = (pages) => {
      const said = (name, before, after) => { const found = pages.read("", name); return found && found.text && `${before}${found.text}${after === undefined ? ` ${bare(found.unit)}` : after}`; };
      const cup = pages.text("", "cup");
      return [said("seconds", "", ` s in ${facts.cups[cup] || cup || "a cup not named"}`), said("thinner", "", " % thinner"), said("paint-temperature", "paint "), said("nozzle", "nozzle "), said("distance", "gun off "), said("wet-film", "wet film ")].filter(Boolean).join(", ");
    };
    const draw = () => {
      const own = window.almanacRecords.live("recipe").map((pages) => {
        const text = (name) => pages.text("", name);
        return { name: (facts.coatings[text("coating")] || {}).name || text("named") || "without a name", surface: text("surface"), batch: text("batch"), date: text("date"), told: told(pages), result: text("result"), here: pages.rec };
      });
      const wanted = (seek.value || "").toLowerCase().split(/\s+/).filter(Boolean);
      const found = [...own, ...facts.recipes].filter((one) => { const text = Object.values(one).join(" ").toLowerCase(); return wanted.every((word) => text.includes(word)); }).sort((a, b) => (a.date < b.date ? 1 : -1));
      list.replaceChildren(...found.map((one) => {
        const item = make("li");
        item.append(make("strong", [one.name, one.surface].filter(Boolean).join(", ")), make("span", one.told), make("span", [one.result.replace(/\.\s*$/, ""), one.batch && `batch ${one.batch}`, one.date, one.here ? "kept on this device" : "in the handbook"].filter(Boolean).join("; ") + "."));
        if (one.here) { const key = make("button", "Open"); key.type = "button"; key.addEventListener("click", () => { form.open(one.here); form.root.scrollIntoView(); }); item.append(key); }
        return item;
      }));
      document.querySelector(".alm-found").textContent = `${found.length} found.`;
    };
    seek.addEventListener("input", draw);
    document.querySelector(".alm-seek").hidden = false;
    form.root.addEventListener("almanac-form", () => { out.replaceChildren(); out.hidden = true; });
    for (const when of ["almanac-list", "almanac-name"]) form.root.addEventListener(when, draw);
    form.root.addEventListener("almanac-do", (event) => {
      if (event.detail.what !== "yaml") return;
      form.flush();
      const held = Object.entries(form.held()), fields = Object.fromEntries(held.map(([name, { text }]) => [name, text])), units = Object.fromEntries(held.map(([name, { unit }]) => [name, unit]));
      const [text, missing] = /** @type {[string, string[]]} */ (yaml({ ...fields }, form.figures(row()), ((form.pages && form.pages.last) || { when: window.almanacRecords.localTime() }).when.slice(0, 10), units));
      out.hidden = false;
      if (missing.length) { out.replaceChildren(make("p", `✕ Not yet: ${missing.join(", ")}.`)); return; }
      const name = `${fields.coating}-${fields.date}.yaml`;
      const box = make("pre");
      box.append(make("code", text));
      box.tabIndex = 0;
      out.replaceChildren(make("p", `✓ Put this file into site_data/recipes as ${name}, and build: it stands on the coating's page for everyone.`), box);
      window.almanacSave(name, text, "application/yaml");
    });
  }
})();
