/* The situation in the journal of records: each set is a record of its own, each reading a field of it, so that what one hand types never stands on what another page typed.
   A record's name is today-DEVICE-key; what came in a file from another device is read as somebody else's: it counts for nothing until it is read again here. No screen; Node loads it too. */
(() => {
  "use strict";
  const KIND = "today", HAND = "hand";
  const inside = (text) => text.toLowerCase().replace(/[^a-z0-9-]/g, "-").slice(0, 50);
  const named = (device, sort, key) => `${KIND}-${device}-${sort === HAND ? HAND : sort === "kit" ? `kit-${inside(key)}` : inside(key)}`;
  const ours = (field) => (field.startsWith("~") ? field.replace("~", "set-") : field);
  const theirs = (field) => (field.startsWith("set-") ? field.replace("set-", "~") : field);
  const parse = (text) => { try { return JSON.parse(text); } catch { return null; } };
  const marked = (reading, from) => (Array.isArray(reading) ? reading.map((one) => ({ ...one, from })) : { ...reading, from });
  /* Every place that stands in the journal, of this device and of others. */
  const read = (journal, device) => {
    const out = {}, all = [...journal.records.values()].filter((pages) => pages.kind === KIND && !pages.gone("*")).sort((a, b) => a.first.at - b.first.at);
    for (const pages of all) {
      const sort = pages.text("", "sort"), said = pages.text("", "key"), mine = pages.rec.startsWith(`${KIND}-${device}-`);
      if (!mine && (sort === HAND || sort === "day")) continue;
      const key = mine || sort === "kit" ? said : pages.rec.slice(KIND.length + 1);
      for (const { row, field, text, edit } of pages.fields()) {
        if (row || field === "sort" || field === "key" || field.startsWith("~") || (!text && field !== "set-name")) continue;
        if (sort === HAND) { out[`hand/${field === "day" ? "day/day" : `chosen/${field.replace("chosen-", "")}`}`] = text; continue; }
        const place = `${sort}/${key}/${theirs(field)}`;
        const reading = edit.dev.startsWith(device) || field.startsWith("set-") ? null : parse(text);
        if (mine || !(place in out)) out[place] = reading ? JSON.stringify(marked(reading, "another phone")) : text;
      }
    }
    return out;
  };
  /* Edits that make the journal say so: {place: text, or null where it is gone}. One list for each record, each list one act. */
  const edits = (journal, device, wanted, zone) => {
    const lists = new Map(), type = (rec, field, text) => { if (!lists.has(rec)) lists.set(rec, []); lists.get(rec).push(journal.type(rec, "", field, text)); };
    for (const [place, text] of Object.entries(wanted)) {
      const [sort, key, field] = place.split("/");
      const alien = journal.records.has(`${KIND}-${key}`) ? `${KIND}-${key}` : null; // a set that another device began stays its own record
      const rec = alien || named(device, sort, key), pages = () => journal.records.get(rec);
      if (journal.erased.has(rec)) continue;
      if (!pages()) { if (text === null) continue; type(rec, "~kind", KIND); if (zone) type(rec, "~zone", zone); type(rec, "sort", sort); type(rec, "key", sort === HAND ? HAND : key); }
      const name = sort === HAND ? (key === "day" ? "day" : `chosen-${field}`) : ours(field), said = text === null ? "" : text;
      const stands = pages().read("", name);
      if (!stands ? said !== "" || field === "~name" : stands.text !== said || !stands.edit.dev.startsWith(device)) type(rec, name, said); // the same figure, read here, is this phone's
    }
    return [...lists.values()];
  };
  const found = { KIND, read, edits };
  if (typeof module === "object") module.exports = found; else window.almanacTodayStore = found;
})();
