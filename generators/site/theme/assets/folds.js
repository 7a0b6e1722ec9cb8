/* What is folded: a link to a folded section opens it, and long tables of words show their rows by name on a phone. On paper all is open. */
(() => {
  "use strict";
  const MANY = 4; // a table of so many rows or fewer is read as it is

  /* Each row under its own name, which opens it. A row that says stop stays open. */
  const shut = (table) => {
    const rows = [...table.querySelectorAll("tbody tr")];
    if (rows.length <= MANY || table.closest(".alm-sheet")) return;
    table.classList.add("alm-rows");
    rows.forEach((row) => {
      const head = row.querySelector("th");
      if (!head || row.querySelector(".zone-stop, .alm-stop")) return;
      const key = document.createElement("button");
      key.type = "button";
      key.className = "alm-row-key";
      key.textContent = head.textContent.trim(); // a link in a key could not be pressed
      head.replaceChildren(key);
      const open = (on) => { row.classList.toggle("alm-shut", !on); key.setAttribute("aria-expanded", String(on)); };
      key.addEventListener("click", () => open(row.classList.contains("alm-shut")));
      row.addEventListener("almanac-open", () => open(true));
      open(false);
    });
  };
  if (matchMedia("(max-width: 44.9375em)").matches) document.querySelectorAll("table.alm-words").forEach(shut);

  const open = () => {
    let target = null;
    try { target = document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch { /* an address that nobody wrote */ }
    for (let fold = target && target.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    const row = target && target.closest("tr.alm-shut");
    if (row) row.dispatchEvent(new Event("almanac-open"));
    if (target) (target.closest("summary") || target).scrollIntoView();
  };
  addEventListener("hashchange", open);
  if (location.hash) open();
})();
