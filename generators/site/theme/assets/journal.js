/* The journal: edits that are only ever added to, and what stands when they are read together. No screen, no store: Node loads it too.

   One edit is { dev, n, at, rec, row, field, text, unit, when, prev }:
     dev   who wrote it: eight letters of the device, six of the open page      n     1, 2, 3 … for that page
     at    a logical clock, above all that was seen; wall time never decides     rec   which record
     row   which line of it, a random name; "" for the record's own fields       field which field; a name that begins with ~ is ours
     text  as typed, never rounded; "" empties it                                unit  as it stood beside the field
     when  local time with its zone, for people to read                          prev  the edits that whoever typed this had before them

   Two edits that did not see each other both stand: one is shown, the other beside it. Nothing is written over by its age.
   A line is taken out by an edit too, one that names all it saw; what was typed into that line elsewhere meanwhile brings it back.
   A record that is erased for good keeps one edit without a text, so that no file brings it in again. */
(() => {
  "use strict";
  const DEV = /^[a-z0-9]{8,24}$/, REC = /^[a-z0-9][a-z0-9-]{0,79}$/, ROW = /^[a-z0-9]{0,24}$/, FIELD = /^(~comma-)?~?[a-z][a-z0-9-]{0,59}$/, KEY = /^[a-z0-9]{8,24}\.[1-9][0-9]{0,15}$/;
  const WHEN = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$/;
  const PARTS = ["dev", "n", "at", "rec", "row", "field", "text", "unit", "when", "prev"];
  const FARTHEST = 2 ** 48; // of the logical clock: what lies beyond was not counted but made up

  class Refusal extends Error {}
  const want = (fine, why) => { if (!fine) throw new Refusal(why); };
  const key = (edit) => `${edit.dev}.${edit.n}`;
  const order = (one, two) => one.at - two.at || (one.dev < two.dev ? -1 : one.dev > two.dev ? 1 : one.n - two.n);

  /* An edit from elsewhere, made again from the parts that we know, or refused with the reason. */
  const checked = (found) => {
    want(found !== null && typeof found === "object" && !Array.isArray(found), "wanted an edit");
    want(Object.keys(found).length === PARTS.length && PARTS.every((part) => Object.hasOwn(found, part)), "an edit with parts that this edition does not know");
    const { dev, n, at, rec, row, field, text, unit, when, prev } = found;
    want(typeof dev === "string" && DEV.test(dev), "an edit without a device");
    want(Number.isSafeInteger(n) && n > 0, "an edit without its number");
    want(Number.isSafeInteger(at) && at > 0 && at < FARTHEST, "an edit whose clock cannot be");
    want(typeof rec === "string" && REC.test(rec), "an edit of no record");
    want(typeof row === "string" && ROW.test(row) && typeof field === "string" && FIELD.test(field), "an edit of no field");
    want(typeof text === "string" && typeof unit === "string" && unit.length <= 40, "an edit without a text");
    want(typeof when === "string" && WHEN.test(when), "an edit without its local time and zone");
    want(Array.isArray(prev) && prev.every((one) => typeof one === "string" && KEY.test(one)), "an edit that does not say what it saw");
    return { dev, n, at, rec, row, field, text, unit, when, prev: [...new Set(prev)].sort() };
  };

  /* The wall clock here with its zone: 2026-11-26T10:32:07+01:00. Pure arithmetic on the parts that the device shows, so that it holds in nights of 23 and 25 hours. */
  const two = (value) => String(Math.trunc(Math.abs(value))).padStart(2, "0");
  const localDay = (now = new Date()) => `${String(now.getFullYear()).padStart(4, "0")}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  const localTime = (now = new Date()) => {
    const off = -now.getTimezoneOffset();
    return `${localDay(now)}T${two(now.getHours())}:${two(now.getMinutes())}:${two(now.getSeconds())}${off < 0 ? "-" : "+"}${two(off / 60)}:${two(off % 60)}`;
  };
  const letters = (count) => { let out = ""; while (out.length < count) out += Math.floor(Math.random() * 36).toString(36); return out; };

  /* One record's edits, and what stands of them. */
  class Pages {
    constructor(rec) { this.rec = rec; this.edits = new Map(); this.heads = new Map(); this.replaced = new Map(); this.begun = new Map(); this.last = null; this.first = null; }
    static place(row, field) { return `${row}\n${field}`; }
    take(edit) {
      const name = key(edit), here = this.edits.get(name);
      if (here) { want(JSON.stringify(here) === JSON.stringify(edit), `two different edits bear the name ${name}: one of the devices is a copy of the other`); return false; }
      this.edits.set(name, edit);
      if (!this.last || order(this.last, edit) < 0) this.last = edit;
      if (!this.first || order(edit, this.first) < 0) this.first = edit;
      const place = Pages.place(edit.row, edit.field);
      if (!this.heads.has(place)) { this.heads.set(place, new Set()); this.replaced.set(place, new Set()); }
      const heads = this.heads.get(place), replaced = this.replaced.get(place);
      for (const before of edit.prev) { replaced.add(before); heads.delete(before); }
      if (!replaced.has(name)) heads.add(name);
      if (edit.field === "~block" && edit.row && (!this.begun.has(edit.row) || order(edit, this.begun.get(edit.row)) < 0)) this.begun.set(edit.row, edit);
      return true;
    }
    seen(row, field) { return [...(this.heads.get(Pages.place(row, field)) || [])].sort(); }
    standing(row, field) { return this.seen(row, field).map((name) => this.edits.get(name)).sort(order); }
    /* What stands in a field, and beside it what was typed without sight of it; null where nothing ever was. The same text twice is no quarrel. */
    read(row, field) {
      const all = this.standing(row, field), edit = all.pop();
      if (!edit) return null;
      const others = all.filter((one, place) => (one.text !== edit.text || one.unit !== edit.unit) && all.findIndex((two) => two.text === one.text && two.unit === one.unit) === place);
      return { edit, text: edit.text, unit: edit.unit, others };
    }
    text(row, field) { const found = this.read(row, field); return found ? found.text : ""; }
    /* All that a removal has to have seen: every edit that stands in the line, or in the record where the row is "*". */
    standingIn(row) {
      const out = [];
      for (const [place, heads] of this.heads) if (row === "*" || place.startsWith(`${row}\n`)) out.push(...heads);
      return out.sort();
    }
    gone(row) {
      const removals = this.standing(row === "*" ? "" : row, "~gone");
      if (!removals.length || removals.some((one) => one.text !== "yes")) return false;
      const saw = new Set(removals.flatMap((one) => [key(one), ...one.prev]));
      return this.standingIn(row).every((name) => saw.has(name));
    }
    /* Lines of one block in the order that they were begun: [row, whether it was taken out, whether something typed elsewhere brought it back]. */
    rows(block) {
      const found = [...this.begun.keys()].filter((row) => this.text(row, "~block") === block);
      return found.sort((a, b) => order(this.begun.get(a), this.begun.get(b))).map((row) => ({ row, gone: this.gone(row), back: this.text(row, "~gone") === "yes" && !this.gone(row) }));
    }
    /* Every field of every line that holds something, for whoever draws or prints all of it. */
    fields() { return [...this.heads.keys()].map((place) => place.split("\n")).map(([row, field]) => ({ row, field, ...this.read(row, field) })); }
    get kind() { return this.text("", "~kind"); }
  }

  class Journal {
    constructor(dev, clock = localTime) { this.dev = dev; this.clock = clock; this.n = 0; this.at = 0; this.records = new Map(); this.erased = new Map(); }
    static dev(device) { return device + letters(6); }
    /* An edit from anywhere: whether it is new here. One of a record that was erased for good is not taken. */
    take(edit) {
      this.at = Math.max(this.at, edit.at);
      if (edit.dev === this.dev) this.n = Math.max(this.n, edit.n);
      if (edit.field === "~erased") {
        if (!this.erased.has(edit.rec)) this.erased.set(edit.rec, new Map());
        const there = this.erased.get(edit.rec), fresh = !there.has(key(edit));
        there.set(key(edit), edit);
        this.records.delete(edit.rec);
        return fresh;
      }
      if (this.erased.has(edit.rec)) return false;
      let pages = this.records.get(edit.rec);
      if (!pages) { pages = new Pages(edit.rec); this.records.set(edit.rec, pages); }
      return pages.take(edit);
    }
    /* Something was typed. Returns the edit to write down: only when that is done may a page say "kept". `saw` is what was on the screen. */
    type(rec, row, field, text, unit = "", saw = null) {
      const pages = this.records.get(rec);
      const prev = saw || (pages ? pages.seen(row, field) : []);
      const edit = checked({ dev: this.dev, n: this.n + 1, at: this.at + 1, rec, row, field, text, unit, when: this.clock(), prev });
      this.take(edit);
      return edit;
    }
    /* A line (or with "*" the whole record) taken out, or put back. */
    remove(rec, row, gone = true) { return this.type(rec, row === "*" ? "" : row, "~gone", gone ? "yes" : "", "", (this.records.get(rec) || new Pages(rec)).standingIn(row)); }
    erase(rec) { return this.type(rec, "", "~erased", "", "", []); }
    /* Every edit, in one order that is the same on every device. */
    edits() { return [...this.records.values()].flatMap((pages) => [...pages.edits.values()]).concat([...this.erased.values()].flatMap((one) => [...one.values()])).sort(order); }
    /* What stands, as one text: two devices that hold the same edits say the same. */
    state() {
      const out = {};
      for (const rec of [...this.records.keys()].sort()) {
        const pages = this.records.get(rec);
        out[rec] = { gone: pages.gone("*"), fields: pages.fields().map(({ row, field, text, unit, others }) => [row, field, text, unit, others.map((one) => [one.text, one.unit]), row ? pages.gone(row) : false]).sort((a, b) => (`${a[0]}\n${a[1]}` < `${b[0]}\n${b[1]}` ? -1 : 1)) };
      }
      return JSON.stringify({ records: out, erased: [...this.erased.keys()].sort() });
    }
  }

  const found = { Refusal, Journal, Pages, checked, key, order, localDay, localTime, letters, want };
  if (typeof module === "object") module.exports = found; else window.almanacJournal = found;
})();
