/* The kit chosen on the first page: its numbers alone are shown there, and it is remembered on this device. */
(() => {
  "use strict";
  const parts = [...document.querySelectorAll("[data-kit]")];
  const choose = document.getElementById("alm-kits");
  if (!choose || parts.length < 2) return;
  const say = (kit) => {
    for (const part of parts) part.hidden = part.dataset.kit !== kit;
    for (const button of choose.querySelectorAll("button")) button.setAttribute("aria-pressed", String(button.value === kit));
  };
  let kept = null;
  try { kept = localStorage.getItem("almanac-kit"); } catch { /* nothing is kept here */ }
  choose.hidden = false;
  say(parts.some((part) => part.dataset.kit === kept) ? kept : parts[0].dataset.kit);
  choose.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    say(button.value);
    try { localStorage.setItem("almanac-kit", button.value); } catch { /* it is asked again next time */ }
  });
})();
