/* Tables that are wider or taller than the screen: the reader's own case in view, else the columns and rows where the answer changes; under the table,
   what lies beyond, keys to go there, and one that opens all rows. Without this script the table scrolls as it is. */
(() => {
  "use strict";
  const made = (name, kind, text) => { const one = document.createElement(name); if (kind) one.className = kind; if (text) one.textContent = text; return one; };
  const zone = (cell) => (cell && (/zone-[a-z]+/.exec(cell.className) || [""])[0]) || "";
  const key = (text, label, press) => { const one = made("button", "", text); one.type = "button"; one.setAttribute("aria-label", label); one.addEventListener("click", press); return one; };

  /* Whether the answer turns between two cells. A dash has none: where figures end is no place to open at. */
  const dash = (cell) => !cell || /^\s*–/.test(cell.textContent);
  const turns = (one, other) => !dash(one) && !dash(other) && zone(one) !== zone(other);

  /* The place along one side where most answers change from one cell to the next; −1 where none does. */
  const turning = (grid, along) => {
    let most = 0, found = -1;
    const count = along ? (grid[0] || []).length : grid.length;
    for (let place = 1; place < count; place += 1) {
      const changes = along ? grid.filter((row) => turns(row[place], row[place - 1])).length : grid[place].filter((cell, at) => turns(cell, grid[place - 1][at])).length;
      if (changes > most) { most = changes; found = place; }
    }
    return found;
  };

  /* What a table is stands over its box: inside, the first lines would scroll away with the rows. */
  let count = 0;
  const moved = (box) => { const said = box.previousElementSibling; return said && said.classList.contains("alm-caption") ? said : null; };
  const overIt = (box, table) => {
    let said = moved(box);
    if (!said) {
      if (!table.caption) return;
      said = made("div", "alm-caption");
      said.append(...table.caption.childNodes);
      table.caption.remove();
      box.before(said);
    }
    said.id = `alm-caption-${count += 1}`;
    table.setAttribute("aria-labelledby", said.id);
  };

  const fit = (box) => {
    if ("fit" in box.dataset || !box.clientWidth) return;
    const table = box.querySelector("table"), over = (side) => box[`scroll${side}`] > box[`client${side}`] + 4;
    if (!table || (!moved(box) && !over("Width") && !over("Height"))) return; // a copy of one that was fitted is fitted too
    box.dataset.fit = "";
    overIt(box, table);
    const wide = over("Width"), tall = over("Height");
    const grid = [...table.querySelectorAll("tbody tr")].map((row) => [...row.querySelectorAll("td")]);
    const first = table.querySelector("tbody th"), top = table.querySelector("thead");
    const heads = [...table.querySelectorAll("thead tr:last-child th")].slice(-(grid[0] || []).length);
    const bar = made("p", "alm-beyond"), told = made("span");
    const beside = () => (first ? first.offsetWidth : 0);
    table.style.setProperty("--alm-beside", `${beside()}px`);
    const seen = () => heads.filter((head) => { const left = head.offsetLeft - box.scrollLeft; return left >= beside() - 8 && left + head.offsetWidth <= box.clientWidth + 8; });
    const say = () => {
      if (!wide || !heads.length) return;
      const now = seen(), name = (head) => head.textContent.trim();
      told.textContent = now.length && now.length < heads.length ? `${name(now[0])} to ${name(now[now.length - 1])} shown, of ${name(heads[0])} to ${name(heads[heads.length - 1])}` : "";
    };
    const go = (side) => () => box.scrollBy({ left: side * Math.max(80, box.clientWidth - beside() - 40) });
    if (wide) bar.append(key("←", "Columns to the left", go(-1)), key("→", "Columns to the right", go(1)));
    if (tall) {
      const all = key("All rows", "Show all rows of this table", () => { const open = box.classList.toggle("alm-open"); all.textContent = open ? "Fewer rows" : "All rows"; all.setAttribute("aria-expanded", String(open)); });
      all.setAttribute("aria-expanded", "false");
      bar.append(all);
    }
    bar.append(told);
    if (bar.childElementCount > 1) box.after(bar);
    const turn = () => {
      const lit = table.querySelector("td.alm-lit");
      const column = lit ? lit : (grid[0] || [])[turning(grid, true)], row = lit ? lit : (grid[turning(grid, false)] || [])[0];
      if (column) box.scrollLeft = column.offsetLeft + column.offsetWidth / 2 - beside() - (box.clientWidth - beside()) / 2;
      if (row) { // a whole row stands under the heads, never half of one
        const wanted = row.offsetTop + row.offsetHeight / 2 - top.offsetHeight - (box.clientHeight - top.offsetHeight) / 2;
        const begins = [...table.tBodies[0].rows].map((one) => one.offsetTop - top.offsetHeight);
        box.scrollTop = begins.find((one) => one >= wanted - 1) || 0;
      }
      say();
    };
    box.addEventListener("scroll", say, { passive: true });
    document.addEventListener("almanac-lit", turn);
    turn();
  };
  const all = (within) => { for (const box of within.querySelectorAll(".alm-scroll")) fit(box); };
  all(document);
  document.addEventListener("toggle", (event) => { if (event.target.open) all(event.target); }, true);
  addEventListener("resize", () => all(document));
  document.addEventListener("almanac-tables", () => all(document)); // new ones came
})();
