/* Clocks: several at once, each kept as a record with the moment it began, so that a closed page loses none. A clock that was stopped can be set going again. */
(() => {
  "use strict";
  const OLD = "almanac-clocks", MINUTE = 60000, DAY = 24 * 60 * MINUTE;
  const keeper = window.almanacKeeper, { letters, checked } = window.almanacJournal;
  const bar = document.getElementById("alm-clock-bar");
  const page = document.querySelector(".alm-clocks");
  let drawn = "";
  const rung = new Set(), open = Date.now();

  /* Clocks of the first edition, from localStorage: the same clock gives the same edits. They are cleared from there by a later visit. */
  const carryOver = async () => {
    let old = [];
    try { old = JSON.parse(localStorage.getItem(OLD)) || []; } catch { return; }
    if (!Array.isArray(old) || !old.length) return;
    const lists = old.filter((one) => one && typeof one.name === "string" && Number.isSafeInteger(one.start) && one.minutes > 0).map((one) => {
      const stem = one.start.toString(36), rec = `clock-${stem}-${String(one.minutes).replace(/\D/g, "").slice(0, 6)}`, when = `${new Date(one.start).toISOString().slice(0, 19)}+00:00`;
      return [["~kind", "clock"], ["name", one.name], ["start", String(one.start)], ["minutes", String(one.minutes)]].map(([field, text], place) => checked({ dev: `oclock${stem}`.slice(0, 24), n: place + 1, at: place + 1, rec, row: "", field, text, unit: "", when, prev: [] }));
    });
    if (lists.length && lists.every(([first]) => keeper.stored.has(first.rec))) { try { localStorage.removeItem(OLD); } catch { /* it does no harm there */ } return; }
    for (const edits of lists) if (!keeper.journal.records.has(edits[0].rec)) { for (const edit of edits) keeper.journal.take(edit); keeper.keep("clock", edits); }
  };

  const figure = (pages, name) => Number(pages.text("", name));
  const clocks = () => [...keeper.journal.records.values()].filter((pages) => pages.kind === "clock" && figure(pages, "start") > 0 && figure(pages, "minutes") > 0)
    .map((pages) => ({ rec: pages.rec, name: pages.text("", "name"), start: figure(pages, "start"), minutes: figure(pages, "minutes"), stopped: pages.gone("*"), changed: Date.parse((pages.last || {}).when) }));
  const left = (clock) => clock.start + clock.minutes * MINUTE - Date.now();
  const span = (milliseconds) => {
    const whole = Math.floor(Math.abs(milliseconds) / 1000), hours = Math.floor(whole / 3600), minutes = Math.floor(whole / 60) % 60, seconds = whole % 60;
    return hours >= 48 ? `${Math.floor(hours / 24)} d ${hours % 24} h` : `${hours ? `${hours} h ` : ""}${String(minutes).padStart(hours ? 2 : 1, "0")} min ${String(seconds).padStart(2, "0")} s`;
  };
  const stop = (clock, on) => { keeper.keep("clock", [keeper.journal.remove(clock.rec, "*", on)]); draw(); };

  const draw = () => {
    const all = clocks(), running = all.filter((clock) => !clock.stopped).sort((a, b) => left(a) - left(b)), due = running.filter((clock) => left(clock) <= 0);
    for (const clock of due) if (!rung.has(clock.rec)) { rung.add(clock.rec); if (clock.start + clock.minutes * MINUTE > open && window.almanacClocks.ring) window.almanacClocks.ring(); } // one that was over before this page opened is silent
    if (bar) {
      bar.hidden = due.length === 0;
      const told = due.map((clock) => clock.name).join(", ");
      const words = bar.querySelector("span");
      if (words.textContent !== told) words.textContent = told; // a status speaks once, not each second
    }
    if (!page) return;
    const list = page.querySelector(".alm-running"), stopped = all.filter((clock) => clock.stopped && Date.now() - clock.changed < DAY).sort((a, b) => b.changed - a.changed);
    const key = JSON.stringify([running, stopped]);
    if (key !== drawn) {
      drawn = key;
      const item = (clock, words, label, press) => {
        const part = document.createElement("li"), name = document.createElement("strong"), time = document.createElement("span"), ends = document.createElement("span"), button = document.createElement("button");
        name.textContent = clock.name;
        time.className = "alm-big-time";
        ends.textContent = words;
        button.type = "button";
        button.textContent = label;
        button.setAttribute("aria-label", `${label === "Stop it" ? "Stop the clock" : "Set going again the clock"} ${clock.name}`);
        button.addEventListener("click", press);
        part.append(name, time, ends, button);
        return part;
      };
      list.replaceChildren(...running.map((clock) => item(clock, `until ${new Date(clock.start + clock.minutes * MINUTE).toLocaleString([], { weekday: "short", hour: "2-digit", minute: "2-digit" })}`, "Stop it", () => stop(clock, true))));
      page.querySelector(".alm-stopped ul").replaceChildren(...stopped.map((clock) => item(clock, "stopped; it goes on as if it never had been", "Set it going again", () => stop(clock, false))));
      page.querySelector(".alm-stopped").hidden = !stopped.length;
      page.querySelector(".alm-none-running").hidden = running.length > 0;
    }
    running.forEach((clock, place) => {
      const rest = left(clock), part = list.children[place];
      part.querySelector(".alm-big-time").textContent = rest > 0 ? span(rest) : `✕ over by ${span(rest)}`;
      part.classList.toggle("alm-due", rest <= 0);
    });
  };

  const save = (name, text, type) => { const link = Object.assign(document.createElement("a"), { href: URL.createObjectURL(new Blob([text], { type })), download: name }); document.body.append(link); link.click(); link.remove(); setTimeout(() => URL.revokeObjectURL(link.href), 10000); };
  window.almanacClocks = { clocks, save };
  if (page) {
    const told = page.querySelector(".alm-told"), make = (tag, text) => { const part = document.createElement(tag); part.textContent = text; return part; };
    page.querySelector(".alm-clock-keys").hidden = false;
    page.querySelector(".alm-live-off").hidden = true;
    const stopped = document.createElement("details");
    stopped.className = "alm-stopped";
    stopped.hidden = true;
    stopped.append(make("summary", "Stopped today"), document.createElement("ul"));
    page.querySelector(".alm-running").after(stopped);
    let begun = "";
    const status = () => { const { is, why } = keeper.status; if (begun && is !== "writing") told.textContent = is === "kept" ? `✓ ${begun}: running, and kept.` : `△ ${begun}: running on this page only. ✕ Not kept: ${why}. Set another clock.`; };
    keeper.addEventListener("status", status);
    const begin = (name, minutes) => {
      if (!(minutes > 0) || minutes > 60 * 24 * 400) { begun = ""; told.textContent = "– Give it minutes, more than none and fewer than 400 days of them."; return; }
      const rec = `clock-${letters(10)}`, { journal } = keeper;
      begun = name;
      rung.delete(rec);
      keeper.keep("clock", [["~kind", "clock"], ["name", name], ["start", String(Date.now())], ["minutes", String(minutes)]].map(([field, text]) => journal.type(rec, "", field, text)));
      draw();
    };
    const name = page.querySelector("#alm-clock-name"), minutes = page.querySelector("#alm-clock-minutes");
    /* Minutes as typed; a comma that can mean two things is asked about, and nothing runs until it is answered. */
    const start = () => {
      const found = window.almanacTyped.read(minutes.value, "min");
      if (found.ask) {
        begun = "";
        told.replaceChildren(make("span", `△ ${minutes.value} can mean two things. It is: `), ...found.ask.map((one) => { const key = make("button", one.said); key.type = "button"; key.addEventListener("click", () => { window.almanacTyped.comma(one.choice); start(); }); return key; }));
        return;
      }
      if (found.problem || (found.value !== null && !found.single)) { begun = ""; told.textContent = `– ${found.problem || "One figure is wanted, not a range."}`; return; }
      begin(name.value.trim() || "Clock", found.value);
    };
    window.almanacClocks.begin = begin;
    for (const key of page.querySelectorAll("[data-minutes]")) key.addEventListener("click", () => { name.value = key.dataset.name; minutes.value = key.dataset.minutes; begin(name.value, Number(key.dataset.minutes)); });
    page.querySelector(".alm-clock-start").addEventListener("click", start);
  }
  keeper.addEventListener("news", draw);
  keeper.load("clock").then(carryOver).then(draw);
  setInterval(() => { if (!document.hidden && (page || bar)) draw(); }, 1000);
  document.addEventListener("visibilitychange", draw);
})();
