/* A form and the record that it shows: drawn from the journal line by line, written back as it is typed. Nothing that is being typed is ever drawn over. */
(() => {
  "use strict";
  const keeper = window.almanacKeeper, records = window.almanacRecords, Entry = window.almanacEntry, make = window.almanacMake;
  const { Journal, letters, localDay } = window.almanacJournal;
  const IDLE = 250, LONGEST = 1000; // milliseconds: a word is written when the hand rests, or after a second at the latest
  const SYSTEM = "almanac-system";
  const system = (is) => { try { if (is) localStorage.setItem(SYSTEM, JSON.stringify({ is })); return (JSON.parse(localStorage.getItem(SYSTEM)) || {}).is; } catch { return undefined; } };

  class Form {
    constructor(root) {
      this.root = root;
      this.kind = root.dataset.kind;
      this.coin = root.dataset.coin;
      this.system = system() || root.dataset.system;
      this.of = new WeakMap();
      this.blocks = [...root.querySelectorAll("fieldset")].map((part) => ({ part, name: part.dataset.block, many: part.dataset.many || "", first: [], blank: null }));
      for (const block of this.blocks) {
        const template = block.part.querySelector("template");
        block.first = this.rows(block).map((row) => row.cloneNode(true));
        block.blank = (template ? template.content.querySelector(".alm-row") : block.first[0]).cloneNode(true);
        if (template) template.remove();
        if (block.many) this.rows(block).forEach((row) => row.remove());
        else this.rows(block)[0].dataset.row = "";
      }
      this.told = root.querySelector(".alm-told");
      this.watchers = [];
      for (const part of root.querySelectorAll(".alm-kept, .alm-out")) part.hidden = false;
      for (const { part } of this.blocks) part.disabled = true; // until it is known which record it shows
      root.querySelector(".alm-live-off").hidden = true;
      for (const key of root.querySelectorAll('[data-do="more"]')) key.hidden = false;
      for (const block of this.blocks) if ("fold" in block.part.dataset) this.fold(block.part);
      const sum = root.querySelector(".alm-sum-up");
      if (sum) sum.hidden = false;
      root.addEventListener("input", (event) => this.typed(event));
      root.addEventListener("change", (event) => { if (event.target.closest(".alm-entry")) this.flush(); });
      root.addEventListener("focusout", (event) => {
        this.flush();
        const part = event.target.closest && event.target.closest(".alm-entry"), one = part && this.of.get(part);
        if (one && one.touched && part.isConnected && this.pages) { one.touched = false; one.fill(this.pages); }
      });
      document.addEventListener("visibilitychange", () => { if (document.hidden) this.flush(); });
      window.addEventListener("pagehide", () => this.flush());
      keeper.addEventListener("news", (event) => this.news(event.detail));
    }
    fold(part) {
      const legend = part.querySelector("legend"), key = make("button", legend.textContent, { type: "button", className: "alm-fold" });
      key.append(make("span", "", { className: "alm-fold-has" }));
      legend.replaceChildren(key);
      key.addEventListener("click", () => this.unfold(part, part.classList.contains("alm-folded")));
      this.unfold(part, false);
    }
    unfold(part, on = true) {
      const key = part.querySelector(".alm-fold");
      if (!key) return;
      part.classList.toggle("alm-folded", !on);
      key.setAttribute("aria-expanded", String(on));
    }
    /* A shut block says how much stands in it. */
    count() {
      for (const block of this.blocks) {
        const has = block.part.querySelector(".alm-fold-has");
        if (!has) continue;
        const many = this.rows(block).flatMap((row) => this.entries(row)).filter((one) => one.filled).length;
        has.textContent = many ? `: ${many} filled in` : "";
      }
    }

    /* Parts of the page. */
    rows(block) { return [...block.part.querySelectorAll(":scope > .alm-row")]; }
    block(name) { return this.blocks.find((block) => block.name === name); }
    entry(part) { let found = this.of.get(part); if (!found) { found = new Entry(this, part); this.of.set(part, found); } return found; }
    entries(row) { return [...row.querySelectorAll(".alm-entry")].map((part) => this.entry(part)); }
    every() { return this.blocks.flatMap((block) => this.rows(block).flatMap((row) => this.entries(row))); }
    find(row, name) { return this.entries(row).find((one) => one.name === name); }
    /* Figures of one row in the formulas' own units, NaN where there is not one figure; words as they are kept; readings with both ends. */
    figures(row) { return Object.fromEntries(this.entries(row).filter((one) => one.is === "number").map((one) => [one.name, one.figure])); }
    readings(row) { return Object.fromEntries(this.entries(row).filter((one) => one.is === "number").map((one) => [one.name, one.reading()])); }
    words(row) { return Object.fromEntries(this.entries(row).filter((one) => one.is !== "number").map((one) => [one.name, one.held.text])); }
    /* The record's own fields, as typed: { name: { text, unit } }. */
    held() { return Object.fromEntries(this.blocks.filter((block) => !block.many).flatMap((block) => this.entries(this.rows(block)[0]).map((one) => [one.name, one.held]))); }
    called(row) { const said = ["coating", "named", "where"].map((name) => this.find(row, name)).filter(Boolean).map((one) => one.word(one.held.text)); return said.filter(Boolean).join(", "); }

    /* Which record is shown. One that is not begun yet stands in a journal of its own, which nothing writes down. */
    get pages() { return this.draft ? this.draft.records.get(this.rec) : keeper.journal.records.get(this.rec); }
    get untouched() { return Boolean(this.draft) && !this.every().some((one) => one.dirty); } // nothing was typed into it
    fresh() {
      this.flush();
      this.rec = records.newId(this.kind);
      this.plan = [];
      const today = localDay(), rows = new Map();
      for (const block of this.blocks) for (const first of block.many ? block.first : [null]) {
        const row = first ? letters(10) : "";
        if (first) { rows.set(block.name, [...(rows.get(block.name) || []), row]); this.plan.push([row, "~block", block.name, ""]); }
        for (const part of (first || this.rows(block)[0]).querySelectorAll(".alm-entry")) this.plan.push(...this.starts(part, row, today, rows));
      }
      this.draft = new Journal(keeper.journal.dev, () => records.localTime());
      this.draft.type(this.rec, "", "~kind", this.kind);
      for (const [row, field, text, unit] of this.plan) this.draft.type(this.rec, row, field, text, unit);
      this.day = today;
      this.draw();
      this.list();
    }
    starts(part, row, today, rows) {
      const { begun, start, usStart, name, unit, usUnit, of } = part.dataset, text = begun || start;
      if (!text) return [];
      if (unit && unit !== usUnit && this.root.dataset.system === "us") return [[row, name, usStart || window.almanacTyped.show(text, unit, usUnit), usUnit]];
      const value = part.dataset.is === "date" && text === "today" ? today : part.dataset.is === "line" ? (rows ? (rows.get(of) || [])[0] : (this.rows(this.block(of))[0] || { dataset: {} }).dataset.row) || "" : text;
      return value ? [[row, name, value, unit || ""]] : [];
    }
    /* The first word makes it a record: what it began with is written down with it, so that a later edition's rates never change it. */
    begin() {
      if (!this.draft) return [];
      this.draft = null;
      const journal = keeper.journal, out = [journal.type(this.rec, "", "~kind", this.kind), journal.type(this.rec, "", "~zone", records.zone())];
      for (const [row, field, text, unit] of this.plan) out.push(journal.type(this.rec, row, field, text, unit));
      for (const one of this.every()) one.saw = this.pages.seen(one.row, one.name);
      return out;
    }
    open(rec) {
      this.flush();
      const pages = rec && keeper.journal.records.get(rec);
      if (!pages || pages.kind !== this.kind) { this.fresh(); return; }
      this.rec = rec;
      this.draft = null;
      this.draw();
      this.list();
    }

    /* Drawing. */
    draw() {
      const { pages } = this;
      if (!pages) { this.fresh(); return; }
      for (const one of this.every()) if (one.of !== this.rec) { one.dirty = false; one.of = this.rec; }
      for (const block of this.blocks) {
        if (!block.many) continue;
        const lines = pages.rows(block.name), here = new Map(this.rows(block).map((row) => [row.dataset.row, row]));
        const end = block.part.querySelector(":scope > .alm-gone");
        let place = this.rows(block)[0] || end;
        for (const line of lines.filter((one) => !one.gone)) {
          let row = here.get(line.row);
          here.delete(line.row);
          if (!row) { row = block.blank.cloneNode(true); row.dataset.row = line.row; for (const one of this.entries(row)) one.of = this.rec; }
          if (row === place) { place = place.nextElementSibling; } else block.part.insertBefore(row, place);
          const name = row.querySelector(".alm-row-name");
          name.classList.toggle("alm-back", line.back);
        }
        for (const row of here.values()) row.remove();
        this.number(block);
        this.gone(block, lines.filter((one) => one.gone));
      }
      for (const one of this.every()) one.fill(pages);
      this.root.classList.toggle("alm-empty", Boolean(this.draft));
      this.others();
      this.after();
    }
    number(block) {
      this.rows(block).forEach((row, place) => {
        row.querySelector(".alm-row-name span").textContent = String(place + 1) + (row.querySelector(".alm-back") ? " △ taken out elsewhere, while something was typed into it here" : "");
        row.querySelector('[data-do="less"]').hidden = false;
        for (const one of this.entries(row)) {
          one.input.id = `${this.kind}-${block.name}-${place + 1}-${one.name}`;
          one.part.querySelector("label").htmlFor = one.input.id;
        }
      });
    }
    /* Lines that were taken out, each with its way back. */
    gone(block, lines) {
      const part = block.part.querySelector(":scope > .alm-gone");
      part.hidden = !lines.length;
      part.querySelector("summary").textContent = `Taken out: ${lines.length}`;
      part.querySelector("ul").replaceChildren(...lines.map(({ row }) => {
        const said = this.pages.fields().filter((one) => one.row === row && !one.field.startsWith("~") && one.text).map((one) => `${one.text}${one.unit && one.unit !== "1" ? ` ${one.unit}` : ""}`).join(", ");
        const item = make("li", `${said.slice(0, 120) || "empty"} `), key = make("button", `Put this ${block.many} back`, { type: "button" });
        key.addEventListener("click", () => { this.write(() => [keeper.journal.remove(this.rec, row, false)]); this.draw(); this.told.textContent = `✓ The ${block.many} is back.`; });
        item.append(key);
        return item;
      }));
    }
    /* Fields that this edition's form no longer has: shown all the same. */
    others() {
      const known = new Set(this.blocks.flatMap((block) => [...block.blank.querySelectorAll(".alm-entry")].map((part) => `${block.many ? block.name : ""}/${part.dataset.name}`)));
      const found = this.pages.fields().filter(({ row, field, text }) => text && !field.startsWith("~") && !known.has(`${row ? this.pages.text(row, "~block") : ""}/${field}`));
      const part = this.root.querySelector(".alm-others");
      part.hidden = !found.length;
      part.replaceChildren(...(found.length ? [make("h2", "Typed in another edition"), ...found.map(({ field, text, unit }) => make("p", `${field}: ${text} ${unit}`))] : []));
    }
    after() { this.count(); this.root.dispatchEvent(new CustomEvent("almanac-form", { detail: this })); }
    list() { this.root.dispatchEvent(new CustomEvent("almanac-list", { detail: this })); }
    news(recs) {
      if (recs.has(this.rec) && !this.draft) { if (keeper.journal.records.has(this.rec)) this.draw(); else this.fresh(); }
      this.list();
    }

    /* Writing. */
    typed(event) {
      const part = event.target.closest(".alm-entry");
      if (!part) return;
      const one = this.entry(part);
      if (one.is === "photo") { this.photograph(one); return; }
      one.take();
      for (const watch of this.watchers) watch(event.target);
      this.soon();
      this.after();
    }
    soon() {
      this.root.dispatchEvent(new CustomEvent("almanac-unkept"));
      clearTimeout(this.rest);
      this.rest = setTimeout(() => this.flush(), IDLE);
      if (!this.limit) this.limit = setTimeout(() => this.flush(), LONGEST);
    }
    /* What was typed goes to the keeper as one act. */
    flush() {
      clearTimeout(this.rest);
      clearTimeout(this.limit);
      this.limit = 0;
      const dirty = this.rec ? this.every().filter((one) => one.dirty) : [];
      if (dirty.length) this.write(() => dirty.flatMap((one) => this.edits(one)));
    }
    get unkept() { return Boolean(this.limit); }
    write(edits, photos = []) {
      const was = Boolean(this.draft), list = [...this.begin(), ...edits()];
      keeper.keep(this.kind, list, photos);
      if (was) { this.root.classList.remove("alm-empty"); for (const one of this.every()) one.print(); this.list(); } else if (list.some((edit) => ` ${this.root.dataset.titleFrom} `.includes(` ${edit.field} `))) this.root.dispatchEvent(new CustomEvent("almanac-name", { detail: this }));
    }
    /* The edits of one entry: its text, and how its comma was answered where that could be asked. */
    edits(one) {
      one.dirty = false;
      const { journal } = keeper, { text, unit } = one.held, found = this.pages.read(one.row, one.name), out = [];
      if (!found || found.text !== text || found.unit !== unit) { if (found || text) out.push(journal.type(this.rec, one.row, one.name, text, unit, one.saw)); }
      if (one.comma && one.doubtful && this.pages.text(one.row, `~comma-${one.name}`) !== one.comma) out.push(journal.type(this.rec, one.row, `~comma-${one.name}`, one.comma));
      one.saw = this.pages.seen(one.row, one.name);
      return out;
    }
    answered(one, choice) {
      for (const other of this.every()) if (other !== one && other.dirty) other.comma = choice;
      one.dirty = true;
      this.flush();
      this.draw();
    }
    choose(one, text, unit) {
      one.dirty = false;
      this.write(() => [keeper.journal.type(this.rec, one.row, one.name, text, unit)]);
      this.draw();
    }
    /* What a choice from the handbook fills in. */
    set(row, name, value) {
      const one = this.find(row, name);
      if (!one) return;
      if (one.is === "number") one.put(Number.isFinite(value) ? Number(value.toPrecision(6)).toString() : "", one.unit); else one.put(String(value ?? ""), "");
      this.soon();
    }
    add(block) {
      const row = letters(10);
      this.write(() => [[row, "~block", block.name, ""], ...[...block.blank.querySelectorAll(".alm-entry")].flatMap((part) => this.starts({ dataset: { ...part.dataset, begun: "" } }, row, localDay()))]
        .map(([line, field, text, unit]) => keeper.journal.type(this.rec, line, field, text, unit)));
      this.draw();
      return this.rows(block).find((one) => one.dataset.row === row);
    }
    takeOut(block, row) {
      this.flush();
      this.write(() => [keeper.journal.remove(this.rec, row.dataset.row)]);
      this.draw();
    }
    async photograph(one) {
      const file = one.input.files[0], { rec } = this, { row } = one;
      one.input.value = "";
      if (!file) return;
      this.told.textContent = "… Making the picture small.";
      try {
        const bytes = await window.almanacPhotos.small(file), name = window.almanacSha256(bytes);
        if (rec !== this.rec) throw new Error("another record was opened meanwhile: choose the picture again");
        this.write(() => [keeper.journal.type(rec, row, one.name, name)], [[name, bytes]]);
        this.told.textContent = `✓ Taken in: ${Math.ceil(bytes.length / 1000)} kB. The original stays where it was.`;
        this.draw();
      } catch (error) { this.told.textContent = `✕ Not taken in: ${error.message}.`; }
    }
    /* Another system only shows it differently: not one byte of the record changes. */
    change() {
      this.flush();
      this.system = this.system === "us" ? "metric" : "us";
      system(this.system);
      this.draw();
    }
    async begun() {
      await records.begun;
      await keeper.load(this.kind);
      // The one that was written in last, by the journal itself: nothing else that a browser keeps outlives a dead battery. A daily form opens today's.
      const found = records.live(this.kind).filter((pages) => !this.root.dataset.daily || this.dayOf(pages) === localDay()).sort((a, b) => b.last.at - a.last.at)[0];
      for (const { part } of this.blocks) part.disabled = false;
      this.open(found ? found.rec : "");
      this.root.dataset.ready = "yes";
    }
    /* The day that a record says it is of, or on which it was begun. */
    dayOf(pages) { const said = this.root.dataset.daily ? pages.text("", this.root.dataset.daily) : ""; return /^\d{4}-\d\d-\d\d$/.test(said) ? said : (pages.first || { when: "" }).when.slice(0, 10); }
  }
  window.almanacForms = [...document.querySelectorAll(".alm-form")].map((root) => new Form(root));
  // The scripts of one kind come after this one: they hang on to the form first, and then it opens.
  document.addEventListener("DOMContentLoaded", () => { for (const form of window.almanacForms) form.begun(); });
})();
