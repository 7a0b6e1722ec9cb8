/* Tables that are the day's chain swept: today's row and column are lit with their neighbours, and a tapped cell says why.
   Each table carries the one situation that it assumes, and each head the readings that it puts in; the cells carry nothing.
   What this needs is fetched when there is something to light, or a cell is tapped. */
(() => {
  "use strict";
  const tables = [...document.querySelectorAll("table[data-swept]")], { ready } = window.almanacAtHand;
  if (!tables.length) return;
  /* Readings as "name=text; name=text": a text without a name is one more dose of the pot. */
  const puts = (text) => (text || "").split("; ").filter(Boolean).reduce((list, one) => { const at = one.indexOf("="); if (at > 0) list.push([one.slice(0, at), one.slice(at + 1)]); else list[list.length - 1][1] += `; ${one}`; return list; }, []);
  /* The answer that a column shows, and how its cells are printed: the table's own, unless the column says. */
  const shown = (table, place) => { const all = [...table.querySelectorAll("thead th[scope=col]")], head = all[all.length - table.tBodies[0].rows[0].cells.length + 1 + place]; return head && head.dataset.swept ? head.dataset : table.dataset; };
  const heads = (table) => [[...table.querySelectorAll("tbody th[data-puts]")], [...table.querySelectorAll("thead th[data-puts]")]];
  const value = (name, text) => window.almanacTyped.read(text, window.almanacDay.readings[name].unit).value;

  /* Places along one side that stand about a value: one where it is met, two where it lies between. None beyond the ends: nothing is extrapolated. */
  const about = (list, at) => {
    const values = list.map((head) => { const [name, text] = puts(head.dataset.puts)[0]; return value(name, text); });
    const met = values.findIndex((one) => Math.abs(one - at) <= 1e-9 * Math.max(1, Math.abs(at)));
    if (met >= 0) return [met];
    for (let place = 0; place + 1 < values.length; place += 1) if ((values[place] - at) * (values[place + 1] - at) < 0) return [place, place + 1];
    return [];
  };
  const light = () => {
    for (const table of tables) {
      for (const lit of table.querySelectorAll(".alm-lit, .alm-lit-head")) lit.classList.remove("alm-lit", "alm-lit-head");
      const [rows, columns] = heads(table), names = [rows, columns].map((list) => (list.length ? (puts(list[0].dataset.puts)[0] || [])[0] : undefined)), given = names.map((name) => name && window.almanacKept.get(name));
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
  const pairs = (table, row, place) => [...puts(table.dataset.base), ...puts(row.firstElementChild.dataset.puts), ...puts((heads(table)[1][place] || { dataset: {} }).dataset.puts)];
  const worked = (table, row, place) => {
    const one = situation(pairs(table, row, place)), day = window.almanacDayAnswers;
    return day.ready(one).then(() => [one, day.work(one, table.dataset.system)]);
  };
  const why = (cell) => ready().then(() => {
    const table = cell.closest("table"), row = cell.parentElement, place = [...row.children].indexOf(cell) - 1, name = shown(table, place).swept, said = cell.firstChild ? cell.firstChild.textContent : "";
    return worked(table, row, place).then(([one, found]) => window.almanacPanel.show(`Why ${said}`, cell, window.almanacWhy(window.almanacDayAnswers.why(name, found, one, table.dataset.system), found.answers[name], "this table’s"), null, true));
  });

  /* Today's own: the same table swept again on this device for the kit and paint in hand, an own one too. As printed it stays, folded under it. */
  const ZONE = { go: ["fine", "✓"], care: ["care", "△"], unknown: ["unknown", "?"], stop: ["stop", "✕"] };
  const cellOf = (of, found) => {
    const [side, step, scale, offset] = of.shows.split(" "), one = found.answers[of.swept], [zone, mark] = ZONE[one.verdict], cell = document.createElement("td");
    const places = (Number(step).toFixed(9).replace(/0+$/, "").split(".")[1] || "").length, known = typeof one.value === "number";
    const text = known ? (window.almanacDayAnswers.rounded(one.value * Number(scale) + Number(offset), side, Number(step)) + 0).toFixed(places).replace("-", "−") : "–";
    cell.className = `zone-${zone}`;
    cell.append(text === "−0" ? "0" : text, window.almanacPanel.make("span", "mark", ` ${mark}`));
    if (!known) cell.title = one.because;
    return [cell, known ? "" : one.because];
  };
  const sheetOf = (slug) => (window.almanacDayFacts.sheets[slug] || []).map(([share, seconds, cup]) => `${share}%:${seconds}s in ${cup}`).join("; ");
  const captionOf = (box) => box.querySelector("caption, .alm-caption"); // where the table is wide or tall, it stands over its box
  const again = async (table, mine) => {
    const box = table.closest(".alm-table"), copy = box.cloneNode(true), own = copy.querySelector("table"), scroll = own.closest(".alm-scroll");
    for (const bar of copy.querySelectorAll(".alm-beyond")) bar.remove(); // its keys belong to the printed one
    delete scroll.dataset.fit;
    scroll.classList.remove("alm-open");
    const base = puts(table.dataset.base).map(([name, text]) => [name, mine[name] || (name === "dose" && mine.coating ? sheetOf(mine.coating) : text)]).filter(([, text]) => text);
    own.dataset.base = base.map((pair) => pair.join("=")).join("; ");
    const names = window.almanacDayFacts.names, who = [mine.coating && base.some(([name]) => name === "coating") && names.coatings[mine.coating][0], mine.kit && base.some(([name]) => name === "kit") && names.kits[mine.kit]].filter(Boolean).join(", ");
    const reasons = new Set();
    for (const row of own.tBodies[0].rows) {
      for (let place = 0; place + 1 < row.cells.length; place += 1) {
        const [, found] = await worked(own, row, place), [cell, reason] = cellOf(shown(own, place), found);
        row.cells[place + 1].replaceWith(cell);
        if (reason) reasons.add(reason);
      }
      await new Promise((done) => { setTimeout(done, 0); }); // a hand on the screen comes first
    }
    const { make } = window.almanacPanel, title = window.almanacDay.answers.find((one) => one.name === table.dataset.swept).title;
    captionOf(copy).replaceChildren(make("span", "alm-cap", make("strong", "", `${title}: ${who}`), ` Today’s, worked on this device. Assumed: ${base.filter(([name]) => !["coating", "kit", "dose"].includes(name)).map(([name, text]) => `${name.replaceAll("-", " ")} ${names.cups[text] || text}`).join(", ")}.`));
    const note = copy.querySelector(".alm-note"), old = copy.querySelector(".alm-reasons");
    note.textContent = `${note.textContent.split(". ")[0].replace(/\.$/, "")}.`;
    if (old) old.remove();
    if (reasons.size) note.after(make("ul", "alm-reasons", ...[...reasons].slice(0, 6).map((one) => make("li", "", `– ${one}`))));
    copy.querySelector("section").setAttribute("aria-label", `${title}: ${who}`);
    copy.classList.add("alm-mine");
    return copy;
  };
  /* Neighbours that differ in kit or paint alone are one table for several: today's stands first, and all the others under it. */
  const kin = (table) => {
    const list = [table];
    for (let next = (table.closest(".alm-other") || table.closest(".alm-table")).nextElementSibling; next; next = next.nextElementSibling) {
      const other = next.classList.contains("alm-table") ? next.querySelector("table[data-swept]") : null;
      if (other && other.dataset.swept === table.dataset.swept && other.dataset.shows === table.dataset.shows) list.push(other); else if (!next.classList.contains("alm-other")) break;
    }
    return list;
  };
  const mineFirst = async () => {
    const kept = window.almanacKept.situation().words, done = new Set();
    for (const table of tables) {
      if (done.has(table) || !table.dataset.shows || table.closest("details, .alm-mine")) continue;
      const family = kin(table);
      for (const one of family) done.add(one);
      const differs = (one) => puts(one.dataset.base).some(([name, text]) => ["kit", "coating"].includes(name) && kept[name] && kept[name] !== text);
      if (!differs(table)) continue;
      const there = family.find((one) => !differs(one)), first = table.closest(".alm-table"), boxes = [];
      for (let node = first; node && (family.some((one) => node.contains(one)) || node.classList.contains("alm-other")); node = node.nextElementSibling) boxes.push(node);
      const today = there ? there.closest(".alm-table") : await again(table, { kit: kept.kit, coating: kept.coating });
      const twin = there && today.nextElementSibling && today.nextElementSibling.classList.contains("alm-other") ? today.nextElementSibling : null;
      const fold = window.almanacPanel.make("details", "alm-how alm-all", window.almanacPanel.make("summary", "", `All as printed: ${boxes.filter((box) => box.classList.contains("alm-table")).map((box) => captionOf(box).querySelector("strong").textContent.split(": ").pop()).join(", ")}`));
      first.before(today, ...(twin ? [twin] : []), fold);
      fold.append(...boxes.filter((box) => box !== today && box !== twin));
      if (!there) { const own = today.querySelector("table"); tables.push(own); listen(own); document.dispatchEvent(new CustomEvent("almanac-tables")); }
    }
  };
  const listen = (table) => {
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
  };
  tables.forEach(listen);
  if (window.almanacAtHand.kept) ready().then(mineFirst).then(() => { light(); window.almanacKept.on(light); });
})();
