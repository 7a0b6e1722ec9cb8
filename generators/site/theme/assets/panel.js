/* A panel at the edge of the screen that does not cover what was tapped: opened, closed, and closed by Back. And its key pad and choices for one reading. */
(() => {
  "use strict";
  const make = (tag, cls, ...inside) => {
    const node = document.createElement(tag);
    if (cls) node.className = cls;
    node.append(...inside.filter((one) => one !== null && one !== undefined));
    return node;
  };
  const key = (words, done, cls) => { const button = make("button", cls || "alm-key", words); button.type = "button"; button.addEventListener("click", done); return button; };
  let open = null;
  const shut = (back) => {
    if (!open) return;
    const { node, from, ended } = open;
    open = null;
    node.remove();
    document.documentElement.classList.remove("alm-panel-open");
    if (from && from.isConnected) from.focus({ preventScroll: true });
    else if (from && from.dataset && from.dataset.reading) { const now = document.querySelector(`[data-reading="${from.dataset.reading}"]`); if (now) now.focus({ preventScroll: true }); }
    if (ended) ended();
    if (!back) history.back();
  };
  addEventListener("popstate", () => shut(true));
  addEventListener("keydown", (event) => { if (open && event.key === "Escape") { event.preventDefault(); shut(); } });
  /* Shows `inside` under a title. `from` is what was pressed: it keeps its place, and a `low` panel leaves it in sight. */
  const show = (title, from, inside, ended, low) => {
    const before = open;
    if (before) { before.node.remove(); open = null; }
    const head = make("h2", "alm-panel-title", title), node = make("section", `alm-panel${low ? " alm-panel-low" : ""}`, make("div", "alm-panel-head", head, key("✕ Close", () => shut(), "alm-key alm-panel-close")), ...inside.filter(Boolean));
    node.setAttribute("role", "dialog");
    node.setAttribute("aria-label", title);
    node.tabIndex = -1;
    (document.querySelector(".md-content__inner") || document.body).append(node);
    const seen = from && from.isConnected ? from.getBoundingClientRect() : { top: 0, bottom: 0 }, tall = node.getBoundingClientRect().height;
    node.classList.toggle("alm-panel-top", seen.bottom > innerHeight - tall && innerHeight - seen.bottom < seen.top);
    document.documentElement.classList.add("alm-panel-open");
    if (!before) history.pushState({ panel: true }, "");
    open = { node, from: from || (before && before.from), ended };
    const first = node.querySelector("[data-first]") || node;
    first.focus({ preventScroll: true });
    return node;
  };

  /* The key pad: 60 px keys under one line of figures. `fields` are {label, unit, units, text}; `done(texts, units)` gets what stands in each and says what is wrong, or nothing. */
  const pad = (fields, done, words) => {
    const told = make("p", "alm-panel-told"), rows = [];
    told.setAttribute("role", "alert");
    const typed = fields.map((field) => {
      const input = make("input", "alm-panel-input"), unit = key(field.unit, () => { const at = field.units.indexOf(unit.textContent); unit.textContent = field.units[(at + 1) % field.units.length]; }, "alm-key alm-panel-unit");
      input.type = "text"; input.inputMode = "none"; input.autocomplete = "off"; input.value = field.text || ""; input.setAttribute("aria-label", field.label);
      unit.setAttribute("aria-label", `Unit: ${field.unit}`);
      if (field.units.length < 2) unit.disabled = true;
      rows.push(make("div", "alm-panel-line", fields.length > 1 ? make("span", "alm-panel-label", field.label) : null, input, unit));
      return { input, unit, field };
    });
    let at = typed[0].input;
    for (const one of typed) one.input.addEventListener("focus", () => { at = one.input; });
    typed[0].input.dataset.first = "";
    const finish = (choice) => {
      const wrong = done(typed.map((one) => one.input.value), typed.map((one) => one.unit.textContent), choice);
      told.replaceChildren(...(Array.isArray(wrong) ? wrong : wrong ? [`△ ${wrong}`] : []));
    };
    const press = (letter) => () => {
      if (letter === "⌫") at.value = at.value.slice(0, -1); else at.value += letter;
      told.replaceChildren();
    };
    const keys = make("div", "alm-pad", ...["7", "8", "9", "⌫", "4", "5", "6", "−", "1", "2", "3", "–"].map((letter) => {
      const button = key(letter === "–" ? "to" : letter, press(letter), "alm-key");
      button.setAttribute("aria-label", { "⌫": "delete", "−": "minus", "–": "to, for a range" }[letter] || letter);
      return button;
    }), key(".", press("."), "alm-key"), key("0", press("0"), "alm-key"), key(words || "Keep", () => finish(), "alm-key alm-key-keep"));
    for (const one of typed) one.input.addEventListener("keydown", (event) => { if (event.key === "Enter") { event.preventDefault(); finish(); } });
    return { parts: [...rows, told, keys], finish };
  };
  window.almanacPanel = { make, key, show, shut, pad, opened: () => open !== null };
})();
