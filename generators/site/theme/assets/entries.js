/* One entry of a form: what is held for it (text and unit, as typed), how that is shown in the system chosen, what is asked about it, and what stands beside it. */
(() => {
  "use strict";
  const make = window.almanacMake;
  const typed = window.almanacTyped;
  const plainUnit = (unit, coin) => unit.replace("Δ", "").replace("money", coin);
  const clock = (when) => `${when.slice(0, 10)} ${when.slice(11, 16)}`;

  class Entry {
    constructor(form, part) {
      this.form = form;
      this.part = part;
      this.input = part.querySelector("input, select, textarea");
      this.name = part.dataset.name;
      this.is = part.dataset.is;
      this.unit = part.dataset.unit || "";
      this.held = { text: "", unit: "" };
      this.saw = [];
      this.dirty = false;
      this.comma = "";
      // What paper shows: it wraps and grows, which no input does.
      this.said = make("span", "", { className: "alm-said" });
      this.said.setAttribute("aria-hidden", "true");
      part.append(this.said);
    }
    get row() { return this.part.closest(".alm-row").dataset.row || ""; }
    get system() { return this.form.system; }
    get target() { return this.system === "us" ? this.part.dataset.usUnit : this.unit; }
    /* What stands in the journal, shown; what is being typed is left alone. */
    fill(pages) {
      const found = pages.read(this.row, this.name), comma = pages.read(this.row, `~comma-${this.name}`);
      this.beside(found && found.others.length ? found : null);
      // A field that a hand is in is left as it is, whatever comes from elsewhere: what is typed on then stands beside it.
      if (this.dirty || (this.touched && document.activeElement === this.input)) return;
      this.touched = false;
      this.saw = pages.seen(this.row, this.name);
      this.held = found ? { text: found.text, unit: found.unit } : { text: "", unit: "" };
      this.comma = comma && !comma.others.length ? comma.text : "";
      this.show();
    }
    show() {
      const { text } = this.held;
      if (this.is === "tick") this.input.checked = text === "yes";
      else if (this.is === "photo") this.picture(text);
      else {
        const shown = this.is === "number" ? this.converted() : text;
        if (this.is === "line") this.lines();
        // A choice that this edition no longer offers is still shown as it was kept.
        if (this.input.tagName === "SELECT" && ![...this.input.options].some((one) => one.value === text)) this.input.append(make("option", text, { value: text }));
        if (this.input.value !== shown) this.input.value = shown;
        // What a date or a time field of this browser cannot show is shown beside it.
        if (this.input.value !== shown && ["date", "time"].includes(this.is)) this.ask([make("span", `△ Kept as “${text}”.`)]);
      }
      this.print();
      this.look();
    }
    converted() {
      const { text, unit } = this.held, sign = this.part.querySelector(".alm-unit");
      const other = unit && this.target && unit !== this.target;
      const shown = other ? typed.show(text, unit, this.target, this.comma) : text;
      if (sign) sign.textContent = plainUnit(other && shown === text && text ? unit : this.target, this.form.coin) + (other && shown !== text ? `, from ${text} ${plainUnit(unit, this.form.coin)}` : "");
      return shown;
    }
    /* What a form begins with is nothing that anybody typed. */
    get blank() { return Boolean(this.form.draft) && !this.dirty && !this.part.dataset.begun; }
    get filled() { return this.held.text !== "" && !this.blank; }
    /* On paper: what is shown, as text. A form that nobody has typed into is paper for a pen: only what a line is printed with stands on it. */
    print() {
      const { input, blank } = this;
      this.part.classList.toggle("alm-has", this.filled);
      this.said.textContent = this.is === "tick" ? (input.checked ? "☒" : "☐") : this.is === "photo" || blank ? "" : input.tagName === "SELECT" ? (input.selectedOptions[0] || { textContent: "" }).textContent : input.value || this.held.text;
      this.part.classList.toggle("alm-much", this.said.textContent.length > 60 || this.said.textContent.includes("\n"));
    }
    /* The person typed: from now on it is theirs, in the unit that stands beside it. */
    take() {
      if (this.is === "photo") return;
      this.dirty = this.touched = true;
      this.held = { text: this.is === "tick" ? (this.input.checked ? "yes" : "") : this.input.value, unit: this.is === "number" ? this.target : "" };
      const sign = this.part.querySelector(".alm-unit");
      if (sign) sign.textContent = plainUnit(this.target, this.form.coin);
      this.comma = typed.comma() || "";
      this.print();
      this.look();
    }
    put(text, unit) { this.dirty = true; this.held = { text, unit }; this.comma = ""; this.show(); }
    /* The figure as it is read, in the unit of the formulas: { value, low, high, single, ask, problem }; null where the field is empty. */
    reading() {
      if (this.is !== "number" || this.held.text.trim() === "") return null;
      const found = typed.read(this.held.text, this.held.unit || this.unit, this.comma);
      if (found.value === null || (this.held.unit || this.unit) === this.unit) return found;
      // A unit that an earlier edition gave this line is turned by the grammar, not by the scale of today's.
      const { scale, offset, usUnit } = this.part.dataset, to = this.held.unit === usUnit ? null : (window.almanacGrammar.to_unit[this.held.unit] || {})[this.unit];
      const inner = (value) => value * Number(to ? to[0] : scale) + Number(to ? to[1] : offset);
      return { ...found, value: inner(found.value), low: inner(found.low), high: inner(found.high) };
    }
    get figure() { const found = this.reading(); return found && found.value !== null && found.single ? found.value : NaN; }
    /* Whether one comma before three digits stands here: two figures in one. */
    get doubtful() { return this.is === "number" && Boolean(typed.read(this.held.text, this.held.unit || this.unit, "").ask); }
    /* Asked, or told, under the field. */
    look() {
      if (this.is !== "number") return;
      const found = this.reading();
      if (!found || (found.value !== null && found.problem === null)) { this.ask([]); return; }
      if (!found.ask) { this.ask([make("span", `✕ ${found.problem}`)]); return; }
      this.ask([make("span", `△ ${this.held.text} can mean two things. It is:`), ...found.ask.map((one) => {
        const key = make("button", one.said, { type: "button" });
        key.addEventListener("click", () => { typed.comma(one.choice); this.comma = one.choice; this.form.answered(this, one.choice); });
        return key;
      })]);
    }
    /* What is told under a field is never told in a shut fold. */
    reveal() {
      const fold = this.part.closest("details");
      if (fold) fold.open = true;
      this.form.unfold(this.part.closest("fieldset"));
    }
    ask(parts) {
      if (!parts.length && !this.asked) return;
      if (!this.asked) { this.asked = make("p", undefined, { className: "alm-ask" }); this.asked.setAttribute("role", "status"); this.part.insertBefore(this.asked, this.said); }
      const words = parts.map((one) => one.textContent).join("|");
      if (this.asked.dataset.words !== words) { this.asked.dataset.words = words; this.asked.replaceChildren(...parts); }
      this.asked.hidden = !parts.length;
      if (parts.length) this.reveal();
    }
    /* Typed on two devices without sight of one another: both stand until a person says which. */
    beside(found) {
      if (!this.other) { if (!found) return; this.other = make("div", undefined, { className: "alm-beside" }); this.part.insertBefore(this.other, this.said); }
      this.other.hidden = !found;
      if (found) this.reveal();
      if (!found) { this.other.replaceChildren(); return; }
      const say = (text, unit) => `“${this.word(text)}${unit && this.is === "number" ? ` ${plainUnit(unit, this.form.coin)}` : ""}”`;
      const choose = (words, text, unit) => { const key = make("button", words, { type: "button" }); key.addEventListener("click", () => this.form.choose(this, text, unit)); return key; };
      this.other.replaceChildren(make("p", `△ Typed in two places, neither knowing of the other. Shown: ${say(found.text, found.unit)}, ${clock(found.edit.when)}.`), choose("This one is right", found.text, found.unit),
        ...found.others.flatMap((one) => [make("p", `Also: ${say(one.text, one.unit)}, ${clock(one.when)}.`), choose("That one is right", one.text, one.unit)]));
    }
    word(text) { const option = this.input.tagName === "SELECT" ? [...this.input.options].find((one) => one.value === text && text) : null; return option ? option.textContent : text; }
    /* A choice among the lines of another block, by their names. */
    lines() {
      const block = this.form.block(this.part.dataset.of), { text } = this.held;
      const options = this.form.rows(block).map((row, place) => make("option", [`${block.many} ${place + 1}`, this.form.called(row)].filter(Boolean).join(": "), { value: row.dataset.row }));
      const lost = text && !options.some((one) => one.value === text);
      this.input.replaceChildren(make("option", "", { value: "" }), ...options, ...(lost ? [make("option", `${block.many} taken out: choose`, { value: text })] : []));
      this.ask(lost ? [make("span", `△ Its ${block.many} was taken out: choose another, or put it back.`)] : []);
      this.input.value = text;
    }
    async picture(name) {
      if (this.shown === name) return;
      this.shown = name;
      if (!this.view) { this.view = make("img", undefined, { className: "alm-photo", alt: "" }); this.part.insertBefore(this.view, this.said); }
      this.view.hidden = true;
      if (!name) return;
      const bytes = await window.almanacKeeper.picture(this.form.rec, name);
      if (this.shown !== name) return;
      if (bytes) { this.view.src = window.almanacPhotos.address(bytes); this.view.alt = "Photograph of this record"; this.view.hidden = false; this.ask([]); }
      else this.ask([make("span", "△ The picture itself is not on this device: bring in the file that holds it.")]);
    }
  }
  window.almanacEntry = Entry;
})();
