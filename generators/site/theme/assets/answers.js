/* Live answers: reads the keys through the one reader of typed values (typed.js), asks the declared formula, and says the answer or the reason why there is none.
   No sum is written here: each formula comes from its own file, made from the same declaration as the tables. */
(() => {
  "use strict";
  const brief = (value) => {
    if (!Number.isFinite(value)) return "–";
    const size = Math.abs(value);
    const text = size >= 1000 ? String(Math.round(value)) : Number(value.toPrecision(size >= 100 ? 4 : 3)).toString();
    return text.replace("-", "−");
  };
  const kept = (key) => { try { return JSON.parse(localStorage.getItem(key)) || {}; } catch { return {}; } };
  const keep = (key, value) => { try { localStorage.setItem(key, JSON.stringify(value)); } catch { /* nothing is kept here */ } };

  const asked = new URLSearchParams(location.search); // figures that came along with a link, from the search

  /* What today's screen gives a formula's fields: a reading of that name, or what the day's chain puts there (kit and paint too). {field: {value, said, at}} in the formula's own units. */
  const todays = (name, formula, found) => {
    const { situation, worked: { out } } = found, day = window.almanacDay, flat = (links) => links.flatMap((link) => (link.is === "each" ? [] : [link])), given = {};
    const link = flat(day.links).find((one) => one.is === "step" && Object.values(one.formula).includes(name)), units = Object.fromEntries([...formula.querySelectorAll(".alm-field")].map((field) => [field.dataset.name, field.dataset.unit]));
    for (const [field, unit] of Object.entries(units)) {
      const reading = day.readings[field], source = link && link.inputs[name] ? link.inputs[name][field] : null;
      const from = reading && reading.unit === unit && situation.numbers[field] !== undefined ? [field, 1, 0] : source;
      if (!from || typeof from[0] !== "string") continue;
      const held = out.held[from[0]];
      if (!held || held.words || !Number.isFinite(held.likely) || held.stale.length) continue;
      const one = window.almanacKept.get(from[0]);
      given[field] = { value: held.likely * from[1] + from[2], at: one && one.at ? one.at : "", fact: from[0].includes("."), from: (/^(kit|coating)\./.exec(from[0]) || [])[1] };
    }
    return given;
  };

  const sumOf = (part) => (window.almanacFormulas || {})[part.dataset.formula];
  const start = (part) => {
    const formula = sumOf(part);
    const bare = (unit) => (unit === "1" ? "" : unit.replace("Δ", "").replace("money", part.dataset.coin));
    const key = "almanac-live:" + part.dataset.formula;
    const fields = [...part.querySelectorAll(".alm-field")];
    const option = part.querySelector(".alm-option");
    const answer = part.querySelector(".alm-answer");
    const old = kept(key);
    let system = kept("almanac-system").is || part.dataset.system;

    // What was typed is kept as it was typed, with the unit it stood in; another system only shows it differently.
    const typed = window.almanacTyped, held = {}, values = {};
    const us = () => system === "us";
    const name = (field) => field.dataset.name;
    const unitOf = (field) => (us() ? field.dataset.usUnit : field.dataset.unit);
    const label = (field) => field.querySelector("label").firstChild.textContent.trim();
    const shownOf = (field) => typed.show(held[name(field)].text, held[name(field)].unit, unitOf(field));
    const found = (field) => typed.read(held[name(field)].text, held[name(field)].unit);
    const tidy = (value, step) => Number((Math.round(value / step) * step).toPrecision(8)).toString();
    /* The figure in the formula's own unit; NaN where there is none. */
    const figure = (field) => {
      const is = found(field);
      if (is.value === null || !is.single) return NaN;
      return is.unit === field.dataset.unit ? is.value : is.value * Number(field.dataset.scale) + Number(field.dataset.offset);
    };
    const ask = (field) => {
      const is = found(field), one = (text, press) => { const key = document.createElement("button"); key.type = "button"; key.textContent = text; key.addEventListener("click", press); return key; };
      let told = field.querySelector(".alm-ask"), parts = [];
      if (is.ask) parts = [`△ ${held[name(field)].text} can mean two things. It is: `, ...is.ask.map((reading) => one(reading.said, () => typed.comma(reading.choice)))];
      else if (is.problem) parts = [`✕ ${is.problem}`];
      else if (is.value !== null && !is.single) parts = ["✕ One figure here: work it once for each end."];
      else if (/^[^,]*[0-9],[0-9]{3}(?![0-9.,])/.test(held[name(field)].text) && typed.comma()) {
        const other = typed.comma() === "decimal" ? "thousands" : "decimal";
        parts = [`On this device its comma stands for ${typed.comma() === "decimal" ? "decimals" : "thousands"}. `, one(`For ${other === "decimal" ? "decimals" : "thousands"}`, () => typed.comma(other))];
      }
      if (!told && !parts.length) return;
      if (!told) { told = document.createElement("p"); told.className = "alm-ask"; told.setAttribute("aria-live", "polite"); field.append(told); }
      const words = parts.map((part) => part.textContent || part).join("|");
      if (told.dataset.words !== words) { told.dataset.words = words; told.replaceChildren(...parts); }
      told.hidden = !parts.length;
      field.querySelector("input").setAttribute("aria-invalid", String(Boolean(is.ask || is.problem)));
    };

    const show = () => {
      for (const field of fields) {
        field.querySelector(".alm-unit").textContent = bare(unitOf(field));
        field.querySelector("input").value = shownOf(field);
        for (const row of field.querySelectorAll(".alm-common")) row.hidden = row.dataset.for !== system && !(row.dataset.for === "metric" && field.querySelectorAll(".alm-common").length === 1);
      }
      part.querySelector(".alm-switch").textContent = us() ? "Show metric units" : "Show US units";
    };
    const work = () => {
      for (const field of fields) { values[name(field)] = figure(field); ask(field); }
      const open = fields.find((field) => found(field).ask);
      const [value, reason] = open ? [NaN, `not worked out until the comma is settled: ${label(open).toLowerCase()}`] : formula.work(values, option ? option.value : undefined);
      const shown = us() ? (value - Number(answer.dataset.offset)) / Number(answer.dataset.scale) : value;
      const unit = bare(us() ? answer.dataset.usUnit : answer.dataset.unit);
      answer.classList.toggle("alm-none", Boolean(reason));
      answer.firstElementChild.textContent = reason ? "– " + reason : brief(shown) + " " + unit;
      const told = fields.map((field) => `${label(field)} ${Number.isFinite(values[name(field)]) ? `${shownOf(field)} ${/[0-9]$/.test(shownOf(field)) ? bare(unitOf(field)) : ""}`.trim() : "–"}`);
      part.querySelector(".alm-sum").textContent = (option ? option.selectedOptions[0].textContent + "; " : "") + told.join("; ");
      keep(key, { held, option: option ? option.value : null });
      light(part.dataset.formula, values);
    };
    const stamp = () => { const now = new Date(), two = (number) => String(number).padStart(2, "0"); return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}T${two(now.getHours())}:${two(now.getMinutes())}`; };
    const put = (field, text) => { held[name(field)] = { text, unit: unitOf(field), at: stamp() }; work(); };

    for (const field of fields) {
      const input = field.querySelector("input"), before = (old.held || {})[name(field)], figureBefore = (old.values || {})[name(field)];
      const sent = asked.get(name(field)), asSent = sent === null ? null : typed.read(sent.slice(0, 40), field.dataset.unit);
      held[name(field)] = asSent && asSent.value !== null && asSent.single ? { text: sent.slice(0, 40), unit: field.dataset.unit, at: stamp() }
        : before && typeof before.text === "string" && [field.dataset.unit, field.dataset.usUnit].includes(before.unit) ? { text: before.text, unit: before.unit, at: before.at }
        : { text: Number.isFinite(figureBefore) ? Number(figureBefore.toPrecision(8)).toString() : input.value, unit: field.dataset.unit };
      input.addEventListener("input", () => put(field, input.value));
      const press = (sign) => () => {
        const step = Number(us() ? field.dataset.usStep : field.dataset.step), from = typed.read(shownOf(field), unitOf(field)).value;
        input.value = tidy((Number.isFinite(from) ? from : 0) + sign * step, step);
        put(field, input.value);
      };
      field.querySelector(".alm-less").addEventListener("click", press(-1));
      field.querySelector(".alm-more").addEventListener("click", press(1));
      for (const button of field.querySelectorAll(".alm-common button")) button.addEventListener("click", () => { input.value = button.value; put(field, input.value); });
    }
    window.addEventListener("almanac-comma", () => { show(); work(); });
    if (option) {
      if (old.option && [...option.options].some((one) => one.value === old.option)) option.value = old.option;
      option.addEventListener("change", work);
    }
    part.querySelector(".alm-switch").addEventListener("click", () => { system = us() ? "metric" : "us"; keep("almanac-system", { is: system }); show(); work(); });
    part.querySelector(".alm-live-off").hidden = true;
    part.querySelector(".alm-live-keys").hidden = false;
    show();
    work();
    /* Today's readings, kit and paint, where nothing was typed here since they were read; what the answer began at stands under it. */
    if (window.almanacAtHand && window.almanacAtHand.kept) window.almanacAtHand.now().then((found) => {
      const given = found ? todays(part.dataset.formula, part, found) : {}, said = [];
      for (const field of fields) {
        const one = given[name(field)], mine = held[name(field)].at;
        if (!one || field.contains(document.activeElement) || (mine && (one.fact ? mine.slice(0, 10) === stamp().slice(0, 10) : mine >= one.at))) continue;
        held[name(field)] = { text: Number(one.value.toPrecision(8)).toString(), unit: field.dataset.unit };
        said.push(`${label(field).toLowerCase()}${one.from ? ` (${one.from === "kit" ? "kit" : "paint"})` : ""}${one.at ? `, ${one.at.slice(0, 10) === stamp().slice(0, 10) ? "" : `${one.at.slice(0, 10)} `}${one.at.slice(11)}` : ""}`);
      }
      if (!said.length) return;
      show();
      work();
      const note = document.createElement("p");
      note.className = "alm-note alm-begun";
      note.textContent = `Begun at today’s: ${said.join("; ")}.`;
      part.querySelector(".alm-live-keys").append(note);
    }, () => {});
  };
  /* A page of very many brings no sums of its own: each is fetched, and its answer started, once every fold around it is open. */
  const startOpened = (part) => {
    const shut = part.closest("details:not([open])"), off = part.querySelector(".alm-live-off");
    if (shut) { shut.addEventListener("toggle", () => startOpened(part), { once: true }); return; }
    off.hidden = true;
    window.almanacBring(`formulas/${part.dataset.formula}.js`).then(() => start(part)).catch(() => { off.hidden = false; });
  };

  /* The cell of a table that today's numbers fall on: the nearest heads, where the numbers lie within them. */
  function light(name, values) {
    for (const table of document.querySelectorAll(`table[data-lights^="${name} "]`)) {
      const [, row, column] = table.dataset.lights.split(" ");
      for (const cell of table.querySelectorAll(".alm-lit")) cell.classList.remove("alm-lit");
      const scale = Number(table.dataset.scale), offset = Number(table.dataset.offset);
      const place = (heads, value) => {
        const numbers = heads.map((head) => Number(head.dataset.head));
        if (!(value >= Math.min(...numbers) && value <= Math.max(...numbers))) return -1;
        return numbers.reduce((best, number, index) => (Math.abs(number - value) < Math.abs(numbers[best] - value) ? index : best), 0);
      };
      const rows = [...table.querySelectorAll("tbody th[data-head]")];
      const columns = [...table.querySelectorAll("thead th[data-head]")];
      const r = place(rows, (values[row] - offset) / scale), c = place(columns, values[column]);
      if (r < 0 || c < 0) continue;
      rows[r].parentElement.children[c + 1].classList.add("alm-lit");
    }
  }

  for (const part of document.querySelectorAll(".alm-live")) (sumOf(part) ? start : startOpened)(part);
})();
