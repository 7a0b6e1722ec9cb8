/* The copy in hand: keeps itself for use without signal, says how much of it is truly here, when a newer edition is ready,
   and when it is old. */
(() => {
  "use strict";
  const part = (id) => document.getElementById(id);
  const note = (id, show) => { if (part(id)) part(id).hidden = !show; };
  const made = document.documentElement.querySelector("[data-edition-date]");
  const YEAR = 365 * 24 * 3600 * 1000;
  if (made && Date.now() - Date.parse(made.dataset.editionDate) > YEAR) note("alm-old", true);

  const here = document.currentScript.src;
  const root = here.slice(0, here.lastIndexOf("/assets/") + 1);
  if (!/^https?:$/.test(location.protocol)) return; // from a stick: the folder itself is the copy

  const AGAIN = [15, 60, 300]; // s before it is tried again by itself
  const OFF = "almanac-off " + root;
  const stored = (key) => { try { return localStorage.getItem(key); } catch { return null; } };
  const off = () => (stored(OFF) ?? stored("almanac-off")) === "yes";
  const setOff = (word) => { try { localStorage.setItem(OFF, word); } catch { /* a private window keeps nothing anyway */ } };
  const workers = (() => { try { return navigator.serviceWorker; } catch { return null; } })(); // a browser that forbids them may throw at the asking

  /* ── the line at the foot ── */

  const files = (n) => (n === 1 ? "1 file" : `${n} files`);
  const BECAUSE = {
    full: () => "This device has no room for the rest: free some, then try again.",
    changed: (n) => `For ${files(n)} this host gives something else than this edition has.`,
    error: (n) => `For ${files(n)} this host answers with an error.`,
    silent: () => "For the rest no answer came.",
  };
  const because = (why) => Object.keys(BECAUSE).filter((one) => why[one]).map((one) => BECAUSE[one](why[one])).join(" ");

  function say(state, words, again) {
    document.documentElement.dataset.kept = state;
    const line = part("alm-kept");
    if (!line) return;
    line.firstElementChild.textContent = words;
    line.dataset.state = state;
    line.hidden = false;
    note("alm-again", again);
  }

  const states = {}; // of the edition in hand, and of a newer one on its way
  function show() {
    const now = states.now;
    if (!now) return;
    const count = now.of - now.left;
    const next = states.next && states.next.left ? ` A newer edition is on its way: ${states.next.of - states.next.left} of ${states.next.of} files. ${states.next.busy ? "" : because(states.next.why)}` : "";
    const counted = `${count} of ${now.of} files of this edition are on this device`;
    if (now.busy) say("coming", `◔ ${counted}; more are coming.${next}`, false);
    else if (now.left) say(count ? "part" : "no", `△ ${counted}. ${because(now.why)}${next}`, true);
    else say("yes", `✓ All ${now.of} files of this edition are on this device, checked: it works without signal.${next}`, Boolean(next && !states.next.busy));
    const list = part("alm-missing");
    if (list) list.replaceChildren(...(now.busy ? [] : now.names).map((name) => Object.assign(document.createElement("li"), { textContent: name })));
  }

  if (!workers) { say("no", "✗ Not kept on this device: this address does not begin with https, or this browser keeps nothing.", false); return; }

  /* ── asking for the copy ── */

  let tries = 0;
  let clock = 0;
  let registration = null;
  function ask(word) {
    clearTimeout(clock);
    registration?.active?.postMessage(word);
    if (states.next && states.next.left && !states.next.busy && !registration?.installing) registration?.update().catch(() => {});
  }
  workers.addEventListener("message", ({ data }) => {
    if (!data || data.almanac !== root || off()) return;
    states[data.newer ? "next" : "now"] = data;
    show();
    clearTimeout(clock);
    if (data.left && !data.busy) clock = setTimeout(() => ask("keep"), AGAIN[Math.min(tries++, AGAIN.length - 1)] * 1000);
  });
  addEventListener("online", () => { tries = 0; ask("keep"); });
  part("alm-again")?.addEventListener("click", () => { tries = 0; ask("check"); });

  let asked = false;
  function told(one) {
    registration = one;
    const ready = () => note("alm-new", Boolean(one.waiting && workers.controller));
    ready();
    one.addEventListener("updatefound", () => one.installing?.addEventListener("statechange", ready));
    const take = part("alm-take");
    if (take) take.onclick = () => { if (one.waiting) { asked = true; one.waiting.postMessage("take the new edition"); } };
    if (one.active) ask("keep"); // else the first worker is still on its way
    else (one.installing || one.waiting).addEventListener("statechange", ({ target }) => { if (target.state === "activating") ask("keep"); });
  }
  const failed = () => { if (!workers.controller) say("no", "✗ Not kept on this device: this host did not give what is needed for a copy.", true); };
  const register = () => workers.register(root + "sw.js", { scope: root }).then(told, async () => {
    const one = await workers.getRegistration(root).catch(() => null); // without signal, what stands goes on
    if (one?.active && one.scope === root) told(one); else failed();
  });
  // Every open page moves to the new edition in the same moment: old pages never read new files.
  let had = Boolean(workers.controller);
  workers.addEventListener("controllerchange", () => { if (had || asked) location.reload(); had = true; });
  if (off()) say("no", "✗ Not kept on this device: it was taken off.", false); else register();
  part("alm-again")?.addEventListener("click", () => { if (!registration) register(); });

  /* ── taking it off ── */

  part("alm-remove")?.addEventListener("click", async () => {
    setOff("yes");
    const one = await workers.getRegistration(root).catch(() => null);
    one?.active?.postMessage("leave");
    for (const name of await caches.keys().catch(() => [])) {
      const earlier = /^almanac-[0-9a-f]{16}$/.test(name) && (await (await caches.open(name)).match(root + "index.html"));
      if (earlier || name === "almanac " + root) await caches.delete(name);
    }
    if (one && one.scope === root) await one.unregister();
    note("alm-removed", true);
    delete states.now;
    say("no", "✗ Not kept on this device: it was taken off.", false);
  });
  part("alm-keep")?.addEventListener("click", () => { setOff("no"); note("alm-removed", false); register(); });
})();
