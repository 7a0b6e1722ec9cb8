/* The keys round a form: which record is open, what the store says, new, away and back, lines more and less, units, print, file out, file in, erase. */
(() => {
  "use strict";
  const keeper = window.almanacKeeper, records = window.almanacRecords, make = window.almanacMake;
  const spoken = (day) => new Date(`${day}T12:00:00Z`).toLocaleDateString(document.documentElement.lang || "en", { weekday: "long", day: "numeric", month: "long", year: "numeric", timeZone: "UTC" });
  const before = (day) => { const when = new Date(`${day}T12:00:00Z`); when.setUTCDate(when.getUTCDate() - 1); return when.toISOString().slice(0, 10); };

  for (const form of window.almanacForms) {
    const { root, told } = form, part = (name) => root.querySelector(name);
    const which = part(".alm-which"), state = part(".alm-state"), say = part(".alm-say"), day = part(".alm-day"), about = part(".alm-about");

    /* The list of records of this kind, the newest first, and those that were taken away. */
    const title = (pages) => {
      const words = root.dataset.titleFrom.split(" ").map((name) => { const text = pages.text("", name), option = text && [...root.querySelectorAll(`[data-name="${name}"] option`)].find((one) => one.value === text); return option ? option.textContent : text; }).filter(Boolean);
      return words.join(", ").slice(0, 80) || "without a name";
    };
    const list = () => {
      const all = records.of(form.kind).map((pages) => ({ pages, at: (pages.last || { at: 0 }).at })).sort((a, b) => b.at - a.at).map((one) => one.pages);
      const option = (pages) => make("option", title(pages), { value: pages.rec });
      const away = make("optgroup");
      away.label = "Taken away";
      away.append(...all.filter((pages) => pages.gone("*")).map(option));
      which.replaceChildren(make("option", form.draft ? "this one, not kept yet" : "a new one", { value: "" }), ...all.filter((pages) => !pages.gone("*")).map(option), ...(away.children.length ? [away] : []));
      which.value = form.draft ? "" : form.rec;
      bars();
    };
    /* What has to be said about the record that is open: that it is another day's, or that it was taken away. */
    let offered = null, second = { edits: [] };
    const bringBack = async () => {
      try {
        const fresh = await keeper.bring(second.edits, second.photos);
        second = { edits: [] };
        keeper.answered();
        told.textContent = `✓ Back: ${fresh} words. They are in the list of records.`;
      } catch (error) { told.textContent = `✕ Nothing was brought back, and it still lies there: ${error.message}.`; }
      bars();
    };
    const bars = () => {
      const { pages } = form, parts = [];
      const bar = (words, ...keys) => { const line = make("p", `${words} `, { className: "alm-bar-here" }); for (const [label, press] of keys) { const key = make("button", label, { type: "button" }); key.addEventListener("click", press); line.append(key, " "); } parts.push(line); };
      if (!form.draft && pages && pages.gone("*")) bar("△ This one was taken away.", ["Put it back", () => back(form.rec)]);
      else if (offered && keeper.journal.records.has(offered)) bar(`△ Taken away: ${title(keeper.journal.records.get(offered))}.`, ["Put it back", () => back(offered)]);
      if (second.edits.length) bar(`△ ${second.edits.length} words, the last of ${second.until.slice(0, 10)} ${second.until.slice(11, 16)}, lie in this browser's second copy.`, ["Bring them back", bringBack], ["They were cleared on purpose", async () => { await window.almanacSecond.clear(); second = { edits: [] }; keeper.answered(); bars(); }]);
      else if (keeper.status.lost) bar("", ["I know", () => { keeper.answered(); bars(); }]);
      if (root.dataset.daily && !form.draft && pages) {
        const of = form.dayOf(pages), today = records.localDay();
        if (of && of < today) bar(`△ This is the log of ${of === before(today) ? "yesterday, " : ""}${spoken(of)}.`, ["Begin today's", () => form.fresh()]);
      }
      say.replaceChildren(...parts);
      say.hidden = !parts.length;
      const made = !form.draft && pages ? pages.first : null, last = made && pages.last;
      const stamp = (when) => `${when.slice(0, 10)} ${when.slice(11, 16)} (UTC${when.slice(19)})`;
      day.textContent = made ? `Begun ${stamp(made.when)}${pages.text("", "~zone") ? `, ${pages.text("", "~zone")}` : ""}; last word ${stamp(last.when)}. Local time.` : "";
    };
    const back = (rec) => { offered = null; keeper.keep(form.kind, [keeper.journal.remove(rec, "*", false)]); form.open(rec); told.textContent = "✓ It is back."; };

    /* What is true of the store, in words: "kept" only when the browser said that it is on the disk. */
    const status = () => {
      const { is, why, waiting, lost } = keeper.status;
      const words = is === "not kept" ? `✕ Not kept: ${why}. What you typed is still on this page: take it out as a file or print it. It is tried again by itself.`
        : form.unkept || is === "writing" ? "… Not written down yet." : form.draft || !form.rec ? "Nothing is kept yet." : "✓ Kept on this device, and nowhere else.";
      const gone = lost ? ` △ Records were kept here before${lost.length > 10 ? ` (since ${lost.slice(0, 10)})` : ""} and this browser's store is empty: it was cleared, or damaged.${records.taken() ? ` Bring in the file of ${records.taken().when.slice(0, 10)}.` : ""}` : "";
      const bad = keeper.unread.length ? ` △ ${keeper.unread.length} on this device cannot be read. It is left as it is, and goes out with the file.` : "";
      const text = words + gone + bad;
      if (state.textContent !== text) { state.textContent = text; if (is === "not kept" || gone) state.setAttribute("role", "alert"); else state.removeAttribute("role"); }
      if (is === "kept" && !waiting && form.rec && !form.draft && !form.unkept) promise();
    };
    let asked = false;
    const promise = async () => { if (asked) return; asked = true; await records.promised(true); aboutIt(); };
    const aboutIt = async () => {
      const taken = records.taken(), kept = await records.promised(false);
      const parts = [taken ? `The last file was taken out ${taken.days < 1 ? "less than a day" : taken.days === 1 ? "1 day" : `${taken.days} days`} ago (${taken.when.slice(0, 10)} ${taken.when.slice(11, 16)}).` : "△ No file was ever taken out of this device: a lost phone is a lost log.",
        kept ? "The browser promises not to clear this by itself." : "△ The browser does not promise to keep this: it may clear it when the device is full."];
      if (location.protocol === "file:") parts.push("△ This copy was opened from a file: any other page saved on this device could read these records.");
      about.textContent = parts.join(" ");
      const comma = window.almanacTyped.comma();
      if (comma) { const key = make("button", "Ask again", { type: "button" }); key.addEventListener("click", () => { window.almanacTyped.comma(null); aboutIt(); }); about.append(` On this device 1,200 means ${comma === "thousands" ? "1200" : "1.2"}. `, key); }
    };

    /* Erasing: the records are found by words, ticked, and the word is typed. */
    const who = part(".alm-erase-who"), sure = part(".alm-erase-sure"), found = part(".alm-erase-found");
    const seek = async () => {
      await keeper.load("*");
      form.flush();
      found.replaceChildren(...records.holding(who.value).map((pages) => {
        const item = make("li"), label = make("label"), tick = make("input", undefined, { type: "checkbox", value: pages.rec, checked: true });
        label.append(tick, ` ${pages.kind}: ${["title", "client", "customer", "named", "trainee", "date"].map((name) => pages.text("", name)).filter(Boolean).join(", ").slice(0, 80) || pages.rec}`);
        item.append(label);
        return item;
      }));
    };
    who.addEventListener("input", seek);
    const erase = () => {
      const names = [...found.querySelectorAll("input:checked")].map((one) => one.value);
      if (!names.length) { told.textContent = "– Nothing is ticked: type a name that stands in the records."; return; }
      if (sure.value.trim().toLowerCase() !== "erase") { told.textContent = "– Type erase to confirm."; return; }
      for (const name of names) records.erase(name);
      who.value = sure.value = "";
      found.replaceChildren();
      if (names.includes(form.rec)) form.fresh();
      told.textContent = `✓ Erased for good: ${names.length}.`;
    };

    const press = async (key) => {
      const what = key.dataset.do, block = form.blocks.find((one) => one.part.contains(key));
      if (what === "new") form.fresh();
      else if (what === "remove") {
        if (form.draft) { form.fresh(); return; }
        form.flush();
        const rec = form.rec;
        keeper.keep(form.kind, [keeper.journal.remove(rec, "*")]);
        offered = rec;
        form.fresh();
        told.textContent = "✓ Taken away. It can be put back.";
      } else if (what === "more") { const row = form.add(block); form.entries(row)[0].input.focus(); } else if (what === "less") {
        form.takeOut(block, key.closest(".alm-row"));
        const gone = block.part.querySelector(":scope > .alm-gone");
        gone.open = true;
        gone.querySelector("li:last-child button").focus();
        told.textContent = `✓ Taken out: the ${block.many}. It can be put back.`;
      } else if (what === "switch") form.change();
      else if (what === "print" || what === "print-customer") {
        form.flush();
        root.classList.toggle("alm-customer", what === "print-customer");
        window.print();
        root.classList.remove("alm-customer");
      } else if (what === "export") { form.flush(); await records.takeOut(); aboutIt(); told.textContent = "✓ A file was taken out. Keep it off this device."; } else if (what === "erase") erase();
      else root.dispatchEvent(new CustomEvent("almanac-do", { detail: { form, what } }));
    };
    root.addEventListener("click", (event) => { const key = event.target.closest("button[data-do]"); if (key) press(key); });
    const bring = part('[data-do="import"]');
    bring.addEventListener("change", async () => {
      const file = bring.files[0];
      bring.value = "";
      if (!file) return;
      try {
        const got = await records.importBytes(new Uint8Array(await file.arrayBuffer()));
        told.textContent = `✓ Brought in: ${got.edits} words that were not here, in ${got.records} new records and those that were here; ${got.same} were here already.${got.unread ? ` △ ${got.unread} parts of the file cannot be read by any edition: keep that file.` : ""}`;
      } catch (error) {
        told.textContent = `✕ Nothing was brought in, and nothing here is lost: ${error instanceof records.Refusal ? error.message : "the file cannot be read"}.`;
      }
    });
    which.addEventListener("change", () => form.open(which.value));
    root.addEventListener("almanac-list", list);
    // A word of its name changed: one line of the list, and not a thousand.
    root.addEventListener("almanac-name", () => { const option = [...which.options].find((one) => one.value === form.rec); if (option) option.textContent = title(form.pages); else list(); });
    root.addEventListener("almanac-unkept", status);
    keeper.addEventListener("status", status);
    root.addEventListener("almanac-form", () => {
      part('[data-do="switch"]').textContent = form.system === "us" ? "Metric units" : "US units";
      status();
    });
    window.addEventListener("almanac-comma", aboutIt);
    // A new day comes to a page that was left open: a form that holds nothing yet takes the new date; a log says whose it is.
    const tick = () => { if (form.untouched && form.day !== records.localDay()) form.fresh(); else if (form.rec) bars(); };
    setInterval(tick, 30000);
    document.addEventListener("visibilitychange", tick);
    aboutIt();
    // Once all is drawn: whether the second copy holds words that the first has lost.
    setTimeout(() => keeper.ready.then(window.almanacSecond.found).then((came) => { second = came; if (came.edits.length) bars(); }).catch(() => {}), 500);
  }
})();
