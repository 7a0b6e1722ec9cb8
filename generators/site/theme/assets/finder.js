/* Opens the search. What answers (the library, the pages' index, the drawing of results) is fetched at the first use, from this copy: no worker and no
   frame, so that it works from a file, too. What was typed or pasted before it arrived is answered when it is there. */
(() => {
  "use strict";
  const own = document.currentScript.src, toggle = document.getElementById("__search"), box = document.querySelector(".md-search__input");
  if (!toggle || !box) return;
  let asked = null;
  const dressed = () => {
    const sheet = document.createElement("link");
    sheet.rel = "stylesheet";
    sheet.href = new URL("find.css", own).href;
    document.head.append(sheet);
  };
  const ready = () => {
    if (!asked) dressed();
    asked = asked || window.almanacBring("minisearch.js", "search-pages.js", "find.js", "find-numbers.js", "find-page.js").then(() => window.almanacFound(box, new URL("../", own).href));
    asked.catch(() => { asked = null; document.querySelector("#alm-found .md-search-result__meta").textContent = "The search could not be fetched. Try again with signal."; });
    return asked;
  };
  const open = () => { toggle.checked = true; box.focus(); ready(); };
  const shut = () => { toggle.checked = false; box.blur(); };
  toggle.addEventListener("change", () => { if (toggle.checked) open(); else box.blur(); });
  box.addEventListener("focus", () => { toggle.checked = true; ready(); });
  box.addEventListener("input", ready);
  box.form.addEventListener("submit", (event) => { event.preventDefault(); const first = document.querySelector("#alm-found a"); if (first) first.click(); });
  box.form.addEventListener("reset", () => setTimeout(() => { box.dispatchEvent(new Event("input")); box.focus(); }, 0));
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && toggle.checked) { shut(); return; }
    if (toggle.checked && (event.key === "ArrowDown" || event.key === "ArrowUp")) {
      const stops = [box, ...document.querySelectorAll("#alm-found a")], at = stops.indexOf(document.activeElement);
      if (at < 0) return;
      event.preventDefault();
      stops[Math.min(stops.length - 1, Math.max(0, at + (event.key === "ArrowDown" ? 1 : -1)))].focus();
      return;
    }
    if (event.defaultPrevented || event.target.closest("input, select, textarea, button, [contenteditable]") || !["/", "s", "f"].includes(event.key) || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    open();
  });
  const given = new URLSearchParams(location.search).get("q");
  if (given) { box.value = given.slice(0, 400); open(); }
  window.almanacSearch = open;
})();
