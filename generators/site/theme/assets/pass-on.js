/* From phone to phone without a server: what is in hand here as a link and a code on the screen; what came by one is shown, and taken by a press or left.
   Nothing is kept by itself, nothing is written over, and what came by a link keeps whose it was. */
(() => {
  "use strict";
  const page = document.querySelector(".alm-pass-on");
  if (!page) return;
  const edition = () => (document.querySelector("[data-edition-date]") || { dataset: {} }).dataset.editionDate || "", WHO = "almanac-whose";
  const here = location.protocol === "file:", make = (tag, cls, ...inside) => { const node = document.createElement(tag); node.className = cls; node.append(...inside); return node; };
  const key = (words, done) => { const button = make("button", "md-button", words); button.type = "button"; button.addEventListener("click", done); return button; };
  const own = () => window.almanacOwnFields, day = () => window.almanacDay, facts = () => window.almanacDayFacts;
  const ready = window.almanacAtHand.ready().then(() => window.almanacDayAnswers.things()).then(() => Promise.all([["almanacSha256", "digest.js"], ["almanacShare", "share.js"]].map(([name, file]) => (window[name] ? null : window.almanacDayAnswers.load(file)))));

  /* What may stand in a link, by kind: the same names and words as the forms and the day's chain have. No free text but a thing's own name: a customer's name has no place in it. */
  const shapes = () => {
    const numbers = (sort) => Object.fromEntries(Object.keys(own()[sort].fields).map((name) => [{ limit: "seconds", supplied: "seconds", nozzles: "nozzle" }[name] || name.replaceAll("_", "-"), "number"])), cups = Object.keys(own().cups);
    const today = Object.fromEntries(Object.entries(day().readings).filter(([name]) => !["now", "region"].includes(name)).map(([name, one]) => [name, one.kind === "number" ? "number" : one.kind === "time" ? "time" : one.kind === "dose" ? "words" : one.kind === "fact" ? Object.keys(one.of === "cups" ? facts().names.cups : facts().names[one.of]).filter((slug) => !slug.startsWith("own-")) : one.options]));
    const basis = ["published", "measured", "common practice", "invented"];
    return {
      today,
      kit: { ...numbers("kit"), name: "words", stages: "number", cup: cups, pattern: ["taper", "bell", "flat-core"], basis },
      paint: { ...numbers("coating"), name: "words", class: Object.keys(own().classes), cup: cups, hardener: ["none", "isocyanate", "amine", "acid", "other"], ratio: "words", "thin-with": "words", "trial-thinner": "number", "trial-seconds": "number", basis },
      recipe: { coating: Object.keys(facts().names.coatings).filter((slug) => !slug.startsWith("own-")), kit: Object.keys(facts().names.kits).filter((slug) => !slug.startsWith("own-")), date: "words", "paint-temperature": "number", cup: cups, seconds: "number", thinner: "number", nozzle: "number", distance: "number", "wet-film": "number" },
    };
  };
  const KIND = { today: "A situation", kit: "A kit", paint: "A paint", recipe: "A recipe" }, RECORD = { kit: "own-kit", paint: "own-paint", recipe: "recipe" };
  const within = (kind, held) => { const known = shapes()[kind]; return Object.fromEntries(Object.entries(held).filter(([name, [text]]) => Object.hasOwn(known, name) && text && (!Array.isArray(known[name]) || known[name].includes(text)))); };

  /* What is here to be passed on: [name, kind, facts]. */
  const offers = () => {
    const list = [], kept = window.almanacKept, situation = {};
    for (const name of Object.keys(day().readings)) {
      const one = kept.get(name);
      if (name === "kit") { if (kept.chosen("kit")) situation.kit = [kept.chosen("kit"), ""]; } else if (Array.isArray(one)) situation[name] = [one.map((dose) => dose.text).join("; "), one[one.length - 1].at]; else if (one && !one.from) situation[name] = [one.text, one.at];
    }
    if (Object.keys(situation).length) list.push(["Today’s situation", "today", within("today", situation)]);
    for (const pages of window.almanacKeeper.journal.records.values()) {
      const kind = Object.keys(RECORD).find((one) => RECORD[one] === pages.kind);
      if (!kind || pages.gone("*")) continue;
      const held = Object.fromEntries(pages.fields().filter((one) => !one.row && !one.field.startsWith("~")).map((one) => [one.field, [one.text.trim(), one.unit]]));
      const called = kind === "recipe" ? `${(facts().names.coatings[(held.coating || [""])[0]] || ["without a paint"])[0]}, ${(held.date || [""])[0]}` : (held.name || ["without a name"])[0];
      list.push([`${KIND[kind]}: ${called}`, kind, within(kind, held)]);
    }
    return list;
  };
  const drawn = async (link) => {
    if (!window.almanacQr) await window.almanacDayAnswers.load("qr.js");
    const { generate, mode } = window.almanacQr, code = generate(mode.multi ? mode.multi(mode.iso8859_1(link.slice(0, link.indexOf("#d1.") + 4)), mode.numeric(link.slice(link.indexOf("#d1.") + 4))) : link, { maxVersion: 20 });
    const canvas = document.createElement("canvas"), quiet = 4, module = Math.max(3, Math.floor(320 / (code.size + 2 * quiet))), wide = (code.size + 2 * quiet) * module;
    canvas.width = canvas.height = wide;
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#fff"; pen.fillRect(0, 0, wide, wide); pen.fillStyle = "#000";
    for (let y = 0; y < code.size; y += 1) for (let x = 0; x < code.size; x += 1) if (code.get(x, y)) pen.fillRect((x + quiet) * module, (y + quiet) * module, module, module);
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", "The link as a square code for another phone's camera");
    canvas.className = "alm-code";
    return canvas;
  };
  const told = make("div", "alm-pass-told");
  told.setAttribute("role", "status");
  const who = make("input", "");
  who.type = "text"; who.maxLength = 40; who.id = "alm-whose"; who.autocomplete = "off";
  try { who.value = localStorage.getItem(WHO) || ""; } catch { /* it is asked again */ }
  const pass = async (one) => {
    const [called, kind, given] = one;
    try { localStorage.setItem(WHO, who.value); } catch { /* it is asked again */ }
    const thing = { kind, edition: edition(), from: who.value.trim().replace(/[\p{Cc}\p{Cf}]/gu, ""), at: window.almanacKept.clock.now(), facts: given };
    const base = location.href.split("#")[0];
    try {
      const letters = await window.almanacShare.pack(thing), digits = await window.almanacShare.pack(thing, true), link = here ? letters : base + letters;
      const field = make("textarea", "alm-pass-link", link);
      field.readOnly = true; field.rows = 4; field.setAttribute("aria-label", "The link");
      const parts = [make("h2", "", called), make("p", "", here ? "This copy was opened from a file, and has no address: copy these letters into the box below on the other phone." : "Copy the link, or let the other phone's camera read the code. It opens in the same handbook, without signal where that is kept."), field];
      parts.push(make("p", "", key("Copy it", () => { field.select(); Promise.resolve(navigator.clipboard ? navigator.clipboard.writeText(link) : document.execCommand("copy")).then(() => { field.setAttribute("aria-label", "The link, copied"); }, () => {}); })));
      if (!here) { try { parts.push(await drawn(base + digits)); } catch { parts.push(make("p", "", "It is too much for a code: copy the link, or take out the file.")); } }
      told.replaceChildren(...parts);
      told.scrollIntoView({ block: "nearest" });
    } catch (error) { told.replaceChildren(make("p", "", `✕ ${error instanceof window.almanacShare.Refusal ? error.message : "It cannot be packed by this browser: take out the file"}.`)); }
  };

  /* What came: shown with whose, where and when, and taken by a press. */
  const readings = (given, from) => {
    const out = {};
    for (const [name, [text, at]] of Object.entries(given)) {
      const one = day().readings[name], moment = /^\d{4}-\d\d-\d\dT\d\d:\d\d$/.test(at) ? at : window.almanacKept.clock.now();
      if (one.kind === "number") {
        const is = window.almanacTyped.read(text, one.unit);
        if (is.value === null || !(is.low >= one.low && is.high <= one.high)) throw new window.almanacShare.Refusal(`${name}: no such value`);
        out[name] = { text, at: moment, value: is.value, low: is.low, high: is.high, unit: one.unit, from };
      } else if (one.kind === "dose") {
        out[name] = text.split("; ").map((dose) => { const found = /^([0-9.]+)%:([0-9.]+)s(?:@([0-9.-]+)C)?$/.exec(dose); if (!found) throw new window.almanacShare.Refusal("dose: no such value"); return { text: dose, at: moment, share: Number(found[1]), seconds: Number(found[2]), temperature: found[3] === undefined ? null : Number(found[3]), from }; });
      } else out[name] = { text, at: moment, from };
    }
    return out;
  };
  const take = (thing) => {
    const from = thing.from || "another phone";
    if (thing.kind === "today") { window.almanacKept.bring(readings(thing.facts, from)); return "../index.html"; }
    const journal = window.almanacKeeper.journal, rec = `${RECORD[thing.kind]}-${window.almanacJournal.letters(10)}`;
    window.almanacKeeper.keep(RECORD[thing.kind], [journal.type(rec, "", "~kind", RECORD[thing.kind]), ...Object.entries(thing.facts).map(([name, [text, unit]]) => journal.type(rec, "", name, text, unit)), journal.type(rec, "", "came-from", `${from} ${thing.at.replace("T", " ")}`)]);
    return { kit: "kit.html", paint: "paint.html", recipe: "../job/recipes.html" }[thing.kind];
  };
  const came = async (hash) => {
    const part = page.querySelector(".alm-came"), clean = () => history.replaceState(null, "", location.pathname + location.search);
    part.hidden = false;
    try {
      const thing = await window.almanacShare.unpack(hash, shapes());
      if (thing.kind === "today") readings(thing.facts, "x");
      const other = thing.edition !== edition() ? ` △ It was made with the edition of ${thing.edition || "a day not told"}; this is ${edition()}.` : "", place = (thing.facts.place || [""])[0];
      const rows = Object.entries(thing.facts).map(([name, [text, more]]) => make("li", "", make("strong", "", name.replaceAll("-", " ")), ` ${text}${thing.kind !== "today" && more && more !== "1" && !/[a-zµ°%]/i.test(text) ? ` ${more}` : ""}${thing.kind === "today" && more ? `, ${more.replace("T", " ")}` : ""}`));
      const said = thing.kind === "today" ? "It becomes a place, a pot and pieces of their own. Its readings are shown, and count for nothing until you read each again here." : "It becomes a record of its own. Nothing here is written over. Read it against the tin or the kit before you rely on it.";
      const stops = thing.kind === "paint" ? window.almanacOwn.stops(Object.fromEntries(Object.entries(thing.facts).map(([name, [text, unit]]) => [name, { text, unit }]))) : [];
      part.replaceChildren(make("h2", "", `${KIND[thing.kind]} from ${thing.from || "a phone that did not say whose"}`), make("p", "", `${thing.at ? `Passed on ${thing.at.replace("T", " ")}` : "No time told"}${place ? `, ${place}` : ""}.${other} Anybody can write a link: take it only from somebody you know.`),
        make("ul", "", ...rows, ...stops.map((stop) => make("li", "", `✕ STOP. ${own().hard[stop] || stop}.`))), make("p", "", said),
        make("p", "", key("Take it", () => { const to = take(thing); clean(); const link = make("a", "", "Open it"); link.href = to; part.replaceChildren(make("p", "", "✓ Taken. ", link)); }), " ", key("Leave it", () => { clean(); part.hidden = true; part.replaceChildren(); })));
    } catch (error) { part.replaceChildren(make("p", "", `✕ Not taken, and nothing here is changed: ${error instanceof window.almanacShare.Refusal ? error.message : "this browser cannot open it"}.`)); clean(); }
    part.scrollIntoView({ block: "nearest" });
  };
  ready.then(() => window.almanacKeeper.load("own-kit", "own-paint", "recipe")).then(() => {
    const list = offers(), label = make("label", "", "Whose phone is this? It stands in the link. "), box = make("textarea", "");
    label.htmlFor = who.id;
    box.rows = 3; box.id = "alm-pasted";
    const pasted = make("label", "", "A link or its letters from another phone");
    pasted.htmlFor = box.id;
    page.querySelector(".alm-live-off").hidden = true;
    page.querySelector(".alm-pass").replaceChildren(make("p", "", label, who), list.length ? make("p", "alm-keys", ...list.map((one) => key(one[0], () => { pass(one); }))) : make("p", "", "– Nothing is here to be passed on: no reading, no own kit or paint, no recipe."), told,
      make("h2", "", "From another phone"), make("p", "", pasted, box), make("p", "", key("Look at it", () => { const at = box.value.trim().lastIndexOf("#"); came(at < 0 ? box.value.trim() : box.value.trim().slice(at)); })));
    page.dataset.ready = "yes";
    if (/^#[bd]\d+\./.test(location.hash)) came(location.hash);
  }, () => { page.querySelector(".alm-live-off").textContent = "△ A file of this handbook is missing here: open it once with signal."; });
  addEventListener("hashchange", () => { if (/^#[bd]\d+\./.test(location.hash)) ready.then(() => came(location.hash)); });
})();
