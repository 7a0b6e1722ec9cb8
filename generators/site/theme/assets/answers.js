/* Live answers: reads the keys, asks the declared formula, and says the answer or the reason why there is none.
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

  for (const part of document.querySelectorAll(".alm-live")) {
    const formula = (window.almanacFormulas || {})[part.dataset.formula];
    if (!formula) continue;
    const bare = (unit) => (unit === "1" ? "" : unit.replace("Δ", "").replace("money", part.dataset.coin));
    const key = "almanac-live:" + part.dataset.formula;
    const fields = [...part.querySelectorAll(".alm-field")];
    const option = part.querySelector(".alm-option");
    const answer = part.querySelector(".alm-answer");
    const old = kept(key);
    let system = kept("almanac-system").is || part.dataset.system;

    // A figure is kept in the formula's own unit; what is shown is that figure in the system chosen.
    const us = () => system === "us";
    const inner = (field, shown) => (us() ? shown * Number(field.dataset.scale) + Number(field.dataset.offset) : shown);
    const outer = (field, value) => (us() ? (value - Number(field.dataset.offset)) / Number(field.dataset.scale) : value);
    const read = (field) => Number(field.querySelector("input").value.replace(",", ".").replace("−", "-").trim() || NaN);
    const tidy = (value, step) => Number((Math.round(value / step) * step).toPrecision(8)).toString();
    const values = {};

    const show = () => {
      for (const field of fields) {
        field.querySelector(".alm-unit").textContent = bare(us() ? field.dataset.usUnit : field.dataset.unit);
        const shown = outer(field, values[field.dataset.name]);
        field.querySelector("input").value = Number.isFinite(shown) ? Number(shown.toPrecision(4)).toString() : "";
        for (const row of field.querySelectorAll(".alm-common")) row.hidden = row.dataset.for !== system && !(row.dataset.for === "metric" && field.querySelectorAll(".alm-common").length === 1);
      }
      part.querySelector(".alm-switch").textContent = us() ? "Show metric units" : "Show US units";
    };
    const work = () => {
      const [value, reason] = formula.work(values, option ? option.value : undefined);
      const shown = us() ? (value - Number(answer.dataset.offset)) / Number(answer.dataset.scale) : value;
      const unit = bare(us() ? answer.dataset.usUnit : answer.dataset.unit);
      answer.classList.toggle("alm-none", Boolean(reason));
      answer.firstElementChild.textContent = reason ? "– " + reason : brief(shown) + " " + unit;
      const told = fields.map((field) => field.querySelector("label").firstChild.textContent.trim() + " " + brief(outer(field, values[field.dataset.name])) + " " + bare(us() ? field.dataset.usUnit : field.dataset.unit));
      part.querySelector(".alm-sum").textContent = (option ? option.selectedOptions[0].textContent + "; " : "") + told.join("; ");
      keep(key, { values, option: option ? option.value : null });
      light(part.dataset.formula, values);
    };
    const take = (field) => { values[field.dataset.name] = inner(field, read(field)); work(); };

    for (const field of fields) {
      const start = Number(field.querySelector("input").value);
      const before = old.values && Number.isFinite(old.values[field.dataset.name]) ? old.values[field.dataset.name] : start;
      values[field.dataset.name] = before;
      field.querySelector("input").addEventListener("input", () => take(field));
      const press = (sign) => () => {
        const step = Number(us() ? field.dataset.usStep : field.dataset.step);
        const from = read(field);
        field.querySelector("input").value = tidy((Number.isFinite(from) ? from : 0) + sign * step, step);
        take(field);
      };
      field.querySelector(".alm-less").addEventListener("click", press(-1));
      field.querySelector(".alm-more").addEventListener("click", press(1));
      for (const button of field.querySelectorAll(".alm-common button")) button.addEventListener("click", () => { field.querySelector("input").value = button.value; take(field); });
    }
    if (option) {
      if (old.option && [...option.options].some((one) => one.value === old.option)) option.value = old.option;
      option.addEventListener("change", work);
    }
    part.querySelector(".alm-switch").addEventListener("click", () => { system = us() ? "metric" : "us"; keep("almanac-system", { is: system }); show(); work(); });
    part.querySelector(".alm-live-off").hidden = true;
    part.querySelector(".alm-live-keys").hidden = false;
    show();
    work();
  }

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
})();
