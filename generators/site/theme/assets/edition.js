/* The copy in hand: keeps itself for use without signal, says when a newer edition is ready, and when it is old. */
(() => {
  "use strict";
  const note = (id, show) => { const part = document.getElementById(id); if (part) part.hidden = !show; };
  const made = document.documentElement.querySelector("[data-edition-date]");
  const YEAR = 365 * 24 * 3600 * 1000;
  if (made && Date.now() - Date.parse(made.dataset.editionDate) > YEAR) note("alm-old", true);

  const here = document.currentScript.src;
  const root = here.slice(0, here.lastIndexOf("/assets/") + 1);
  if (!("serviceWorker" in navigator) || !/^https?:$/.test(location.protocol)) return;

  let asked = false;
  const told = (registration) => {
    const ready = () => note("alm-new", Boolean(registration.waiting && navigator.serviceWorker.controller));
    ready();
    registration.addEventListener("updatefound", () => {
      const coming = registration.installing;
      if (coming) coming.addEventListener("statechange", () => { ready(); kept(); });
    });
    const take = document.getElementById("alm-take");
    if (take) take.addEventListener("click", () => { if (registration.waiting) { asked = true; registration.waiting.postMessage("take the new edition"); } });
  };
  const kept = () => caches.keys().then((names) => {
    const on = names.some((name) => name.startsWith("almanac-")) && Boolean(navigator.serviceWorker.controller);
    document.documentElement.dataset.kept = on ? "yes" : "no";
    note("alm-kept", on);
  });
  // Every open page moves to the new edition in the same moment: old pages never read new files.
  let had = Boolean(navigator.serviceWorker.controller);
  navigator.serviceWorker.addEventListener("controllerchange", () => { if (had || asked) location.reload(); had = true; kept(); });
  if (localStorageSays("almanac-off") !== "yes") navigator.serviceWorker.register(root + "sw.js", { scope: root }).then(told, () => {});
  kept();

  function localStorageSays(key) { try { return localStorage.getItem(key); } catch { return null; } }
  const remove = document.getElementById("alm-remove");
  if (remove) remove.addEventListener("click", async () => {
    for (const name of await caches.keys()) if (name.startsWith("almanac-")) await caches.delete(name);
    const registration = await navigator.serviceWorker.getRegistration(root);
    if (registration) await registration.unregister();
    try { localStorage.setItem("almanac-off", "yes"); } catch { /* a private window keeps nothing anyway */ }
    note("alm-removed", true);
    kept();
  });
  const keep = document.getElementById("alm-keep");
  if (keep) keep.addEventListener("click", () => {
    try { localStorage.removeItem("almanac-off"); } catch { /* as above */ }
    navigator.serviceWorker.register(root + "sw.js", { scope: root }).then(told, () => {});
    note("alm-removed", false);
  });
})();
