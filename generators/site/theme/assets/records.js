/* Records on this device, as the pages ask for them: what there is, what is taken out as one file and brought in whole, and what the browser promises. */
(() => {
  "use strict";
  const keeper = window.almanacKeeper, { Refusal, localDay, localTime, letters } = window.almanacJournal;
  const OLD = "almanac-record:", OLD_QUIZ = "almanac-quiz:", TAKEN = "almanac-taken", DAY = 24 * 3600 * 1000;
  const room = () => { try { return window.localStorage; } catch { return null; } };

  /* Units that stood beside a figure of the first edition. */
  const units = (kind, block, field, system) => { const pair = (((window.almanacJobFacts.units || {})[kind] || {})[block] || {})[field]; return pair ? pair[system === "us" ? 1 : 0] : ""; };

  /* Whether this visit has carried over already; from now on it has. */
  const visited = () => { try { const was = sessionStorage.getItem("almanac-carried"); sessionStorage.setItem("almanac-carried", "yes"); return was !== null; } catch { return false; } };
  /* What the first edition left in localStorage: carried over whole, in one transaction, and taken from there only when a later visit finds it here. */
  const carryOver = async () => {
    const kept = room(), found = [], bad = [];
    for (let place = 0; kept && place < kept.length; place += 1) if (kept.key(place).startsWith(OLD) || kept.key(place).startsWith(OLD_QUIZ)) found.push(kept.key(place));
    if (!found.length) return;
    await keeper.load("*");
    const edits = [], again = visited();
    for (const name of found.sort()) {
      const text = kept.getItem(name);
      try {
        const made = name.startsWith(OLD_QUIZ) ? window.almanacCarry.quiz(name, text) : window.almanacCarry.edits(JSON.parse(text), name, units), { rec } = made[0];
        if (!name.startsWith(OLD_QUIZ) && `${OLD}${rec}` !== name) throw new Refusal("it lies under another name");
        const pages = keeper.journal.records.get(rec), erased = keeper.journal.erased.has(rec);
        const here = erased || (pages && made.every((edit) => pages.edits.has(window.almanacJournal.key(edit))));
        if (here && keeper.db && !again && (erased || keeper.stored.has(rec))) kept.removeItem(name); else if (!here) edits.push(...made);
      } catch { bad.push(`${name}: ${text}`); }
    }
    for (const text of bad) if (!keeper.unread.includes(text)) keeper.unread.push(text);
    if (!edits.length) return;
    try { await keeper.bring(edits, []); } catch {
      // No room, or no store: they are shown from memory all the same, they stay where they lay, and they can be taken out.
      for (const edit of edits) keeper.journal.take(edit);
      keeper.changed();
    }
  };

  const begun = (async () => { await keeper.ready; await carryOver(); })();

  const of = (kind) => [...keeper.journal.records.values()].filter((pages) => pages.kind === kind);
  const live = (kind) => of(kind).filter((pages) => !pages.gone("*"));
  const newId = (kind) => `${kind}-${letters(10)}`;
  /* A new record from what another one holds: { name: { text, unit } }, as typed; and lines of its blocks, { block: [{ name: { text, unit } }] }. */
  const start = (kind, fields, lines = {}) => {
    const rec = newId(kind), journal = keeper.journal;
    const edits = [journal.type(rec, "", "~kind", kind), journal.type(rec, "", "~zone", zone())];
    for (const [name, { text, unit }] of Object.entries(fields)) if (text) edits.push(journal.type(rec, "", name, text, unit));
    for (const [block, rows] of Object.entries(lines)) for (const one of rows) {
      const row = letters(10);
      edits.push(journal.type(rec, row, "~block", block));
      for (const [name, { text, unit }] of Object.entries(one)) if (text) edits.push(journal.type(rec, row, name, text, unit));
    }
    keeper.keep(kind, edits);
    return rec;
  };
  const zone = () => { try { return Intl.DateTimeFormat().resolvedOptions().timeZone || ""; } catch { return ""; } };
  /* Every record as plain names and texts: for lists, and for whoever looks in from a console. */
  const all = () => [...keeper.journal.records.values()].filter((pages) => pages.kind && !["clock", "today", "leaving"].includes(pages.kind) && !pages.gone("*")).sort((a, b) => (a.rec < b.rec ? -1 : 1)).map((pages) => {
    const out = { id: pages.rec, kind: pages.kind, fields: {}, lines: {} };
    for (const { row, field, text } of pages.fields()) if (!row && !field.startsWith("~")) out.fields[field] = text;
    for (const block of new Set([...pages.begun.keys()].map((row) => pages.text(row, "~block")))) {
      out.lines[block] = pages.rows(block).filter((line) => !line.gone).map(({ row }) => Object.fromEntries(pages.fields().filter((one) => one.row === row && !one.field.startsWith("~")).map((one) => [one.field, one.text])));
    }
    return out;
  });

  /* Everything, kept or not, as the text of one file. */
  const exportText = async () => {
    await keeper.load("*");
    const photos = (await keeper.pictures()).map(([rec, name, bytes]) => [rec, name, window.almanacPhotos.base64(bytes)]);
    return window.almanacTakeout.write(keeper.journal.edits(), photos, keeper.unread, localTime());
  };
  const importBytes = async (bytes) => {
    const found = window.almanacTakeout.read(bytes, units);
    const before = new Set(keeper.journal.records.keys());
    const fresh = await keeper.bring(found.edits, found.photos.map(([rec, name, jpeg]) => [rec, name, window.almanacTakeout.bytesOf(jpeg)]));
    const records = [...keeper.journal.records.keys()].filter((rec) => !before.has(rec)).length;
    return { edits: fresh, same: found.edits.length - fresh, records, unread: found.unread.length };
  };
  const taken = () => { const text = (room() && room().getItem(TAKEN)) || ""; const when = Date.parse(text); return Number.isFinite(when) ? { when: text, days: Math.floor((Date.now() - when) / DAY) } : null; };
  const takeOut = async () => {
    const text = await exportText(), now = localTime();
    save(`records-${now.slice(0, 10)}-${now.slice(11, 16).replace(":", "")}.jsonl`, text, "application/json");
    try { room().setItem(TAKEN, now); } catch { /* the next page asks again */ }
    keeper.note("taken", now);
  };
  const save = (name, text, type) => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type }));
    link.download = name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  };

  /* Whether the browser promises not to throw the store away. Asked once on a page, after something was kept. */
  let promise = null;
  const promised = async (ask) => {
    if (!navigator.storage || !navigator.storage.persisted) return false;
    if (promise === null || (ask && promise !== true)) {
      promise = await navigator.storage.persisted().catch(() => false);
      if (!promise && ask) promise = await navigator.storage.persist().catch(() => false);
    }
    return promise;
  };
  /* Records in which these words stand anywhere, and what each is called. */
  const holding = (words) => {
    const wanted = words.trim().toLowerCase();
    return wanted ? [...keeper.journal.records.values()].filter((pages) => pages.kind !== "clock" && [...pages.edits.values()].some((edit) => edit.text.toLowerCase().includes(wanted))) : [];
  };
  const erase = (rec) => { keeper.erase(rec); if (rec.startsWith("today-")) try { room().removeItem("almanac-today"); } catch { /* there is none */ } try { room().removeItem(OLD + rec); } catch { /* there is nothing to remove */ } };

  window.almanacRecords = { begun, of, live, all, start, newId, zone, exportText, importBytes, takeOut, taken, promised, holding, erase, localDay, localTime, Refusal };
  window.almanacSave = save;
  /* A part of the page with a text in it: never markup, whatever the text says. */
  window.almanacMake = (tag, text, more = {}) => { const part = document.createElement(tag); if (text !== undefined) part.textContent = text; return Object.assign(part, more); };
})();
