/* On this page the theme's own script is fetched when it is first asked for: a press on the key that turns the page's light. */
(() => {
  "use strict";
  const address = new URL(document.currentScript.dataset.bundle, location.href).href;
  let asked = null;
  document.documentElement.classList.replace("no-js", "js");
  for (const input of document.querySelectorAll(".md-option")) {
    const label = document.querySelector(`label[for="${input.id}"]`);
    if (label) label.hidden = true;
  }
  /* The device's own light or dark, unless the reader has said otherwise. */
  let said = null;
  try { said = window.__md_get("__palette"); } catch { /* nothing is kept here */ }
  const follow = () => { for (const one of document.querySelectorAll(".md-option")) if (matchMedia(one.dataset.mdColorMedia || "not all").matches) document.body.dataset.mdColorScheme = one.dataset.mdColorScheme; };
  if (!said || !said.color) { follow(); matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => { if (!asked) follow(); }); }
  const palettes = [...document.querySelectorAll(".md-option")], body = document.body;
  /* The theme's own script would show the key that turns the page's light: until it is here, the one that fits what is shown. */
  const shown = palettes.findIndex((one) => one.dataset.mdColorScheme === body.dataset.mdColorScheme);
  const key = palettes.length ? palettes[Math.max(shown, 0)].nextElementSibling : null;
  if (key) key.hidden = false;
  const fetched = () => { asked = asked || window.almanacBring(address).catch((error) => { asked = null; throw error; }); return asked; };
  /* Clocks and records: fetched where this device has any, or cannot say. */
  const records = async () => {
    let there = true;
    try { there = ["almanac-clocks", "almanac-today"].some((name) => localStorage.getItem(name) !== null) || (await indexedDB.databases()).length > 0; } catch { /* it cannot say */ }
    if (there) window.almanacBring("journal.js", "keeper.js", "clocks.js").then(() => window.almanacKept && window.almanacKept.join()).catch(() => {});
  };
  records();
  let own = false;
  const again = (target) => fetched().then(() => setTimeout(() => {
    own = true;
    target.click();
    own = false;
  }, 0));
  document.addEventListener("click", (event) => {
    if (own || asked) return;
    const target = event.target.closest('label[for^="__palette"]');
    if (!target) return;
    event.preventDefault();
    event.stopPropagation();
    again(target);
  }, true);
})();
