/* Tables that are the day's chain swept: today's row and column are lit with their neighbours, and a tapped cell says why.
   Each table carries the one situation that it assumes, and each head the readings that it puts in; the cells carry nothing.
   What this needs is fetched when there is something to light, or a cell is tapped. */
(() => {
  "use strict";
  const own = document.currentScript.src, tables = [...document.querySelectorAll("table[data-swept]")];
  if (!tables.length) return;
  const load = (address) => new Promise((done, failed) => {
    const script = document.createElement("script");
    script.src = new URL(address, own).href;
    script.onload = done;
    script.onerror = failed;
    document.head.append(script);
  });
  let asked = null;
  const ready = () => {
    asked = asked || (() => {
      const sheet = document.createElement("link");
      sheet.rel = "stylesheet";
      sheet.href = new URL("day.css", own).href;
      document.head.append(sheet);
      return Promise.all([load("kept.js"), load("day.js"), load("panel.js"), window.almanacTyped ? null : load("grammar.js").then(() => load("typed.js"))]).then(() => load("why.js")).then(() => window.almanacDayAnswers.chain());
    })().catch((error) => { asked = null; throw error; });
    return asked;
  };
  const puts = (head) => (head && head.dataset.puts ? head.dataset.puts.split("; ").map((one) => { const at = one.indexOf("="); return [one.slice(0, at), one.slice(at + 1)]; }) : []);
  const heads = (table) => [[...table.querySelectorAll("tbody th[data-puts]")], [...table.querySelectorAll("thead th[data-puts]")]];
  const value = (name, text) => window.almanacTyped.read(text, window.almanacDay.readings[name].unit).value;

  /* Places along one side that stand about a value: one where it is met, two where it lies between. None beyond the ends: nothing is extrapolated. */
  const about = (list, at) => {
    const values = list.map((head) => { const [name, text] = puts(head)[0]; return value(name, text); });
    const met = values.findIndex((one) => Math.abs(one - at) <= 1e-9 * Math.max(1, Math.abs(at)));
    if (met >= 0) return [met];
    for (let place = 0; place + 1 < values.length; place += 1) if ((values[place] - at) * (values[place + 1] - at) < 0) return [place, place + 1];
    return [];
  };
  const light = () => {
    for (const table of tables) {
      for (const lit of table.querySelectorAll(".alm-lit, .alm-lit-head")) lit.classList.remove("alm-lit", "alm-lit-head");
      const [rows, columns] = heads(table), names = [rows, columns].map((list) => (list.length ? (puts(list[0])[0] || [])[0] : undefined)), given = names.map((name) => name && window.almanacKept.get(name));
      const found = names.map((name, side) => (!name ? [0] : given[side] && given[side].value !== undefined ? about([rows, columns][side], given[side].value) : []));
      const note = table.closest(".alm-table").querySelector(".alm-note");
      let told = note.querySelector(".alm-today");
      if (told) told.remove();
      if (!found[0].length || !found[1].length) continue;
      for (const row of found[0]) {
        rows[row].classList.add("alm-lit-head");
        for (const column of found[1]) { rows[row].parentElement.children[column + 1].classList.add("alm-lit"); if (columns[column]) columns[column].classList.add("alm-lit-head"); }
      }
      told = window.almanacPanel.make("strong", "alm-today", ` Today, ${given.filter(Boolean).map((one) => one.text).join(", ")}: framed${found[0].length * found[1].length > 1 ? "; it lies between, so take the worse" : ""}.`);
      note.append(told);
      document.dispatchEvent(new Event("almanac-lit"));
    }
  };

  /* A table's own situation as the chain wants it; a reading that cannot be read here is left out, and so not known. */
  const DOSE = /^\s*([0-9.]+)\s*%\s*(w?)\s*:\s*([0-9.]+)\s*s?\s*(?:@\s*([-0-9.]+)\s*°?C)?\s*(?:in\s+([a-z0-9-]+))?\s*$/i;
  /* Doses as this handbook's own tables write them, with semicolons between: "5%:45s@23C in ford-4". */
  const doses = (text) => text.split(";").map((one) => DOSE.exec(one)).filter(Boolean).map(([, share, weighed, seconds, degrees, cup]) => ({ share: Number(share), weighed: Boolean(weighed), seconds: Number(seconds), temperature: degrees === undefined ? null : Number(degrees), cup: cup || null }));
  const situation = (pairs) => {
    const out = { numbers: {}, words: {}, doses: [], at: {}, texts: {}, spans: {}, day: window.almanacKept.clock.now().slice(0, 10) };
    for (const [name, text] of pairs) {
      const reading = window.almanacDay.readings[name];
      if (!reading) continue;
      out.texts[name] = text;
      if (reading.kind === "dose") out.doses.push(...doses(text));
      else if (reading.kind === "number") { const is = value(name, text); if (is !== null) out.numbers[name] = is; } else if (reading.kind === "time") { if (text === "none") out.words.rain = text; } else out.words[name] = text;
    }
    return out;
  };
  const why = (cell) => ready().then(() => {
    const table = cell.closest("table"), row = cell.parentElement, place = [...row.children].indexOf(cell) - 1, [, columns] = heads(table);
    const one = situation([...puts({ dataset: { puts: table.dataset.base } }), ...puts(row.firstElementChild), ...puts(columns[place])]), day = window.almanacDayAnswers;
    return day.ready(one).then(() => {
      const worked = day.work(one, table.dataset.system), name = table.dataset.swept, shown = cell.firstChild ? cell.firstChild.textContent : "";
      window.almanacPanel.show(`Why ${shown}`, cell, window.almanacWhy(day.why(name, worked, one, table.dataset.system), worked.answers[name], "this table’s"), null, true);
    });
  });
  for (const table of tables) {
    const cells = () => [...table.querySelectorAll("tbody td")];
    if (cells()[0]) cells()[0].tabIndex = 0;
    table.addEventListener("click", (event) => { const cell = event.target.closest("tbody td"); if (cell) why(cell); });
    table.addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => {
      const cell = event.target.closest("tbody td"), wide = cell ? cell.parentElement.children.length - 1 : 0;
      const step = { ArrowLeft: -1, ArrowRight: 1, ArrowUp: -wide, ArrowDown: wide }[event.key];
      if (!cell) return;
      if (event.key === "Enter" || event.key === " ") { event.preventDefault(); why(cell); return; }
      const next = step && cells()[cells().indexOf(cell) + step];
      if (next) { event.preventDefault(); cell.tabIndex = -1; next.tabIndex = 0; next.focus(); }
    });
  }
  let kept = null;
  try { kept = localStorage.getItem("almanac-today"); } catch { /* nothing is kept here */ }
  if (kept) ready().then(() => { light(); window.almanacKept.on(light); });
})();
