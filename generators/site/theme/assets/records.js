/* Records on this device: kept as they are typed, taken out as one file, brought in whole or not at all. And the forms that hold them. */
(() => {
  "use strict";
  const PREFIX = "almanac-record:", MARK = "sprayers-almanac-records", EDITION = 1;
  const KINDS = ["job", "log", "recipe", "care", "signoff"], SYSTEMS = ["metric", "us"];
  const NAME = /^[a-z][a-z0-9-]{0,59}$/, ID = /^[a-z0-9][a-z0-9-]{0,79}$/, MOMENT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/;
  const MOST_LETTERS = 20000, MOST_ROWS = 500, MOST_FILE = 8000000;

  class Refusal extends Error {}
  const refuse = (reason) => { throw new Refusal(reason); };
  const plain = (value) => Boolean(value) && typeof value === "object" && !Array.isArray(value);

  /* A record with nothing in it that we do not know, its names in order: the same record is the same text, on every device. */
  const texts = (value, where) => {
    if (!plain(value)) refuse(`${where}: wanted names and texts`);
    const out = {};
    for (const name of Object.keys(value).sort()) {
      if (!NAME.test(name)) refuse(`${where}: a name that no record has: ${JSON.stringify(name).slice(0, 40)}`);
      if (typeof value[name] !== "string" || value[name].length > MOST_LETTERS) refuse(`${where}, ${name}: wanted a text of at most ${MOST_LETTERS} letters`);
      out[name] = value[name];
    }
    return out;
  };
  const checked = (value, where) => {
    if (!plain(value)) refuse(`${where}: wanted a record`);
    const known = ["id", "kind", "system", "made", "changed", "fields", "lines"];
    for (const name of Object.keys(value)) if (!known.includes(name)) refuse(`${where}: a part that no record has: ${JSON.stringify(name).slice(0, 40)}`);
    if (typeof value.id !== "string" || !ID.test(value.id)) refuse(`${where}: wanted an id of small letters, digits and hyphens`);
    if (!KINDS.includes(value.kind)) refuse(`${where}: a kind of record that this handbook does not know`);
    if (!SYSTEMS.includes(value.system)) refuse(`${where}: wanted metric or us units`);
    for (const when of ["made", "changed"]) if (typeof value[when] !== "string" || !MOMENT.test(value[when])) refuse(`${where}: wanted the moment it was ${when}`);
    if (!plain(value.lines)) refuse(`${where}: wanted its lines`);
    const lines = {};
    for (const name of Object.keys(value.lines).sort()) {
      if (!NAME.test(name)) refuse(`${where}: lines that no record has`);
      const rows = value.lines[name];
      if (!Array.isArray(rows) || rows.length > MOST_ROWS) refuse(`${where}, ${name}: wanted at most ${MOST_ROWS} lines`);
      lines[name] = rows.map((row, place) => texts(row, `${where}, ${name} ${place + 1}`));
    }
    return { id: value.id, kind: value.kind, system: value.system, made: value.made, changed: value.changed, fields: texts(value.fields, where), lines };
  };

  const room = () => { try { return window.localStorage; } catch { return null; } };
  const stored = (id) => { const kept = room(); return kept ? kept.getItem(PREFIX + id) : null; };
  const ids = () => {
    const kept = room(), found = [];
    for (let place = 0; kept && place < kept.length; place += 1) if (kept.key(place).startsWith(PREFIX)) found.push(kept.key(place).slice(PREFIX.length));
    return found.sort();
  };
  const read = (id) => { try { const record = checked(JSON.parse(stored(id)), id); return record.id === id ? record : null; } catch { return null; } };
  const all = () => ids().map(read).filter(Boolean);
  /* What cannot be read is left as it lies, and told. */
  const unreadable = () => ids().filter((id) => read(id) === null);
  const write = (id, text) => { try { room().setItem(PREFIX + id, text); return true; } catch { return false; } };
  const put = (record) => write(record.id, JSON.stringify(checked(record, record.id)));
  const remove = (id) => { try { room().removeItem(PREFIX + id); } catch { /* there is nothing to remove */ } };
  const exportText = () => JSON.stringify({ [MARK]: EDITION, records: all() }, null, 1) + "\n";

  const importText = (text) => {
    if (text.length > MOST_FILE) refuse("the file is too big for a file of records");
    let found;
    try { found = JSON.parse(text); } catch { refuse("the file cannot be read: it is damaged, or it is no file of records"); }
    if (!plain(found) || !(MARK in found)) refuse("the file was made by something else");
    if (found[MARK] !== EDITION) refuse("the file was made by another edition: get the newest edition of this handbook first");
    if (Object.keys(found).length !== 2 || !Array.isArray(found.records)) refuse("the file is damaged: its list of records is missing");
    const records = found.records.map((record, place) => checked(record, `record ${place + 1}`));
    if (new Set(records.map((record) => record.id)).size < records.length) refuse("the file is damaged: it holds one record twice");
    const told = { added: 0, same: 0, beside: 0 }, plan = [];
    for (const record of records) {
      // One that is here already and says something else is kept beside it: nothing that is here is written over.
      let name = record.id, count = 1;
      for (;;) {
        const here = stored(name), text = JSON.stringify({ ...record, id: name });
        if (here === text) { told.same += 1; break; }
        if (here === null && !plan.some((one) => one.id === name)) { plan.push({ id: name, text }); told[count > 1 ? "beside" : "added"] += 1; break; }
        count += 1;
        name = `${record.id.slice(0, 64)}-${count}`;
      }
    }
    const done = [];
    for (const one of plan) {
      if (!write(one.id, one.text)) {
        done.forEach(remove);
        refuse("this device has no room for it: nothing of the file was kept, and nothing that was here is lost");
      }
      done.push(one.id);
    }
    return told;
  };

  window.almanacRecords = { all, put, remove, read, ids, unreadable, exportText, importText, Refusal };

  /* A figure as it was typed, in the unit that formulas work in; NaN where there is none. */
  const figure = (text, entry, system) => {
    const bare = String(text ?? "").replace(",", ".").replace("−", "-").trim();
    if (bare === "" || !Number.isFinite(Number(bare))) return NaN;
    return system === "us" ? Number(bare) * Number(entry.dataset.scale) + Number(entry.dataset.offset) : Number(bare);
  };
  const typed = (value, entry, system) => {
    if (!Number.isFinite(value)) return "";
    const shown = system === "us" ? (value - Number(entry.dataset.offset)) / Number(entry.dataset.scale) : value;
    return Number(shown.toPrecision(4)).toString();
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
  const LAST = "almanac-last:";
  const lately = (kind, id) => { try { if (id === undefined) return localStorage.getItem(LAST + kind); localStorage.setItem(LAST + kind, id); } catch { /* nothing is kept here */ } return null; };
  let count = 0;
  const newId = (kind) => `${kind}-${Date.now().toString(36)}-${Math.floor(Math.random() * 46656).toString(36)}${(count += 1).toString(36)}`;

  class Form {
    constructor(root) {
      this.root = root;
      this.kind = root.dataset.kind;
      this.coin = root.dataset.coin;
      this.home = root.dataset.system;
      this.blocks = [...root.querySelectorAll("fieldset")].map((part) => ({ part, name: part.dataset.block, many: part.dataset.many || "" }));
      for (const block of this.blocks) {
        block.first = this.rows(block).map((row) => row.cloneNode(true));
        block.blank = block.first[0].cloneNode(true);
        for (const entry of this.entries(block.blank)) if (entry.dataset.is !== "tick") this.input(entry).value = entry.dataset.start || "";
      }
      this.told = root.querySelector(".alm-told");
      this.which = root.querySelector(".alm-which");
      for (const part of root.querySelectorAll(".alm-kept, .alm-out")) part.hidden = false;
      root.querySelector(".alm-live-off").hidden = true;
      for (const key of root.querySelectorAll('[data-do="more"]')) key.hidden = false;
      for (const block of this.blocks) if ("fold" in block.part.dataset) this.fold(block.part);
      const sum = root.querySelector(".alm-sum-up");
      if (sum) sum.hidden = false;
      root.addEventListener("input", (event) => this.changed(event));
      root.addEventListener("click", (event) => { const key = event.target.closest("button[data-do]"); if (key) this.press(key); });
      root.querySelector('[data-do="import"]').addEventListener("change", (event) => this.bringIn(event.target));
      this.which.addEventListener("change", () => { if (this.which.value) this.open(window.almanacRecords.read(this.which.value)); else this.fresh(); });
      this.watchers = [];
      // The same record open twice: what the other page kept is shown here, so that an old copy never writes over it.
      window.addEventListener("storage", (event) => { if (event.key === PREFIX + this.record.id && event.newValue !== null) this.open(window.almanacRecords.read(this.record.id)); });
    }
    fold(part) {
      const legend = part.querySelector("legend"), key = document.createElement("button");
      key.type = "button";
      key.className = "alm-fold";
      key.textContent = legend.textContent;
      legend.replaceChildren(key);
      const open = (on) => { part.classList.toggle("alm-folded", !on); key.setAttribute("aria-expanded", String(on)); };
      key.addEventListener("click", () => open(part.classList.contains("alm-folded")));
      open(false);
    }
    entries(row) { return [...row.querySelectorAll(".alm-entry")]; }
    input(entry) { return entry.querySelector("input, select, textarea"); }
    rows(block) { return [...block.part.querySelectorAll(":scope > .alm-row")]; }
    get system() { return this.record.system; }

    fresh() {
      const now = new Date().toISOString();
      this.record = { id: newId(this.kind), kind: this.kind, system: this.home, made: now, changed: now, fields: {}, lines: {} };
      for (const block of this.blocks) this.draw(block, null);
      if (this.home === "us") this.convert("metric", "us");
      const today = this.root.querySelector('[data-name="date"] input[type="date"]');
      if (today && !today.value) today.value = now.slice(0, 10);
      this.kept = false;
      this.after("");
    }
    open(record) {
      if (!record) { this.fresh(); return; }
      this.record = record;
      for (const block of this.blocks) this.draw(block, block.many ? record.lines[block.name] || [] : [record.fields]);
      this.kept = true;
      lately(this.kind, record.id);
      this.after("");
    }
    /* One row for each line, or the rows as they begin. */
    draw(block, lines) {
      this.rows(block).forEach((row) => row.remove());
      const add = block.part.querySelector(':scope > .alm-keys');
      (lines && lines.length ? lines : block.first).forEach((line) => {
        const row = (line instanceof Element ? line : block.blank).cloneNode(true);
        for (const entry of this.entries(row)) {
          if (line instanceof Element) continue;
          const input = this.input(entry), value = line[entry.dataset.name] ?? "";
          if (input.type === "checkbox") input.checked = value === "yes"; else input.value = value;
          // A choice that this edition no longer offers is still shown as it was kept.
          if (input.tagName === "SELECT" && input.value !== value) { const old = document.createElement("option"); old.value = value; old.textContent = value; input.append(old); input.value = value; }
        }
        block.part.insertBefore(row, add);
      });
      this.number(block);
    }
    number(block) {
      const rows = this.rows(block);
      rows.forEach((row, place) => {
        const name = row.querySelector(".alm-row-name span"), less = row.querySelector('[data-do="less"]');
        if (name) name.textContent = String(place + 1);
        if (less) less.hidden = rows.length < 2;
        for (const entry of this.entries(row)) {
          const key = `${this.kind}-${block.name}-${place + 1}-${entry.dataset.name}`;
          this.input(entry).id = key;
          entry.querySelector("label").htmlFor = key;
        }
      });
    }
    collect() {
      const line = (row) => Object.fromEntries(this.entries(row).map((entry) => {
        const input = this.input(entry);
        return [entry.dataset.name, (input.type === "checkbox" ? (input.checked ? "yes" : "") : input.value).slice(0, MOST_LETTERS)];
      }));
      const lines = { ...this.record.lines };
      let fields = { ...this.record.fields };
      for (const block of this.blocks) {
        if (block.many) lines[block.name] = this.rows(block).map(line);
        else fields = { ...fields, ...line(this.rows(block)[0]) };
      }
      return { ...this.record, changed: new Date().toISOString(), fields, lines };
    }
    /* Figures of one row, by name, in the formulas' own units. */
    figures(row) {
      return Object.fromEntries(this.entries(row).filter((entry) => entry.dataset.is === "number").map((entry) => [entry.dataset.name, figure(this.input(entry).value, entry, this.system)]));
    }
    words(row) { return Object.fromEntries(this.entries(row).filter((entry) => entry.dataset.is !== "number").map((entry) => [entry.dataset.name, this.input(entry).value])); }
    block(name) { return this.blocks.find((block) => block.name === name); }
    set(row, name, value) {
      const entry = this.entries(row).find((one) => one.dataset.name === name);
      if (!entry) return;
      this.input(entry).value = entry.dataset.is === "number" ? typed(value, entry, this.system) : String(value ?? "");
    }
    changed(event) {
      if (event.target.closest(".alm-kept")) return;
      for (const watch of this.watchers) watch(event.target);
      this.keep();
    }
    keep() {
      this.record = this.collect();
      const kept = window.almanacRecords.put(this.record);
      this.kept = this.kept || kept;
      if (kept) lately(this.kind, this.record.id);
      this.after(kept ? "✓ Kept on this device, and nowhere else." : "✕ Not kept: this device has no room. What you typed is still on this page: take it out as a file or print it, then remove old records.");
    }
    title(record) {
      const words = this.root.dataset.titleFrom.split(" ").map((name) => {
        const value = record.fields[name] || "";
        const option = [...this.root.querySelectorAll(`[data-name="${name}"] option`)].find((one) => one.value === value && value);
        return option ? option.textContent : value;
      }).filter(Boolean);
      return words.join(", ").slice(0, 80) || "without a name";
    }
    after(told) {
      const records = window.almanacRecords.all().filter((record) => record.kind === this.kind);
      const blank = document.createElement("option");
      blank.value = "";
      blank.textContent = this.kept ? "a new one" : "this one, not kept yet";
      this.which.replaceChildren(blank, ...records.map((record) => { const one = document.createElement("option"); one.value = record.id; one.textContent = this.title(record); return one; }));
      this.which.value = this.kept ? this.record.id : "";
      const bad = window.almanacRecords.unreadable().length;
      this.told.textContent = told + (bad ? ` △ ${bad} on this device cannot be read. It is left as it is.` : "");
      this.root.querySelector('[data-do="switch"]').textContent = this.system === "us" ? "Metric units" : "US units";
      for (const entry of this.root.querySelectorAll(".alm-entry[data-unit]")) {
        const unit = entry.querySelector(".alm-unit");
        if (unit) unit.textContent = (this.system === "us" ? entry.dataset.usUnit : entry.dataset.unit).replace("Δ", "").replace("money", this.coin);
      }
      this.root.dispatchEvent(new CustomEvent("almanac-form", { detail: this }));
    }
    convert(from, to) {
      for (const entry of this.root.querySelectorAll(".alm-entry[data-unit]")) {
        const value = figure(this.input(entry).value, entry, from);
        if (Number.isFinite(value)) this.input(entry).value = typed(value, entry, to);
      }
    }
    press(key) {
      const what = key.dataset.do;
      if (what === "new") this.fresh();
      else if (what === "remove") {
        if (key.dataset.sure !== "yes") { key.dataset.sure = "yes"; key.textContent = "Press again: it is gone for good"; setTimeout(() => { key.dataset.sure = ""; key.textContent = "Remove this one"; }, 6000); return; }
        key.dataset.sure = "";
        key.textContent = "Remove this one";
        window.almanacRecords.remove(this.record.id);
        this.fresh();
        this.told.textContent = "✓ Removed.";
      } else if (what === "more" || what === "less") {
        const block = this.blocks.find((one) => one.part.contains(key));
        if (what === "less") key.closest(".alm-row").remove();
        else {
          const row = block.blank.cloneNode(true);
          block.part.insertBefore(row, block.part.querySelector(":scope > .alm-keys"));
          if (this.system === "us") for (const entry of this.entries(row)) if (entry.dataset.unit) this.input(entry).value = typed(figure(this.input(entry).value, entry, "metric"), entry, "us");
        }
        this.number(block);
        this.keep();
        if (what === "more") this.input(this.entries(this.rows(block).at(-1))[0]).focus();
      } else if (what === "switch") {
        const to = this.system === "us" ? "metric" : "us";
        this.convert(this.system, to);
        this.record.system = to;
        if (this.kept) this.keep(); else this.after("");
      } else if (what === "print") window.print();
      else if (what === "export") save("records.json", window.almanacRecords.exportText(), "application/json");
      else this.root.dispatchEvent(new CustomEvent("almanac-do", { detail: { form: this, what } }));
    }
    async bringIn(input) {
      const file = input.files[0];
      input.value = "";
      if (!file) return;
      try {
        const found = window.almanacRecords.importText(await file.text());
        this.after(`✓ Brought in: ${found.added} new, ${found.same} that were here already, ${found.beside} kept beside one that says something else.`);
      } catch (error) {
        this.told.textContent = `✕ Nothing was brought in, and nothing here is lost: ${error instanceof Refusal ? error.message : "the file cannot be read"}.`;
      }
    }
    begin() { this.open(window.almanacRecords.read(lately(this.kind) || "")); }
  }

  window.almanacForms = [...document.querySelectorAll(".alm-form")].map((root) => new Form(root));
  /* A part of the page with a text in it: never markup, whatever the text says. */
  window.almanacMake = (tag, text, more = {}) => { const part = document.createElement(tag); if (text !== undefined) part.textContent = text; return Object.assign(part, more); };
  window.almanacSave = save;
  window.almanacNewId = newId;
  window.almanacLately = lately;
  // The scripts of one kind come after this one: they hang on to the form first, and then it opens.
  document.addEventListener("DOMContentLoaded", () => { for (const form of window.almanacForms) form.begin(); });
})();
