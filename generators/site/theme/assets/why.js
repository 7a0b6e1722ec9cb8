/* "Why this number": what an answer rests on, as it is shown in a panel. Rows come from the walk of the day's chain. */
(() => {
  "use strict";
  const { make } = window.almanacPanel, { base } = window.almanacDayAnswers;
  const plain = (name) => name.replace(/^(kit|coating|limits|region|class|surface|ground)\./, "$1: ").replaceAll("-", " ").replaceAll("_", " ");
  window.almanacWhy = (rows, told, assumed) => {
    const list = (items) => make("ul", "alm-why", ...items), anchor = (formula) => { const one = make("a", "", formula.replaceAll("-", " ")); one.href = base(`../reference/formulas.html#${formula}`); return one; };
    return [make("p", "alm-panel-ask", make("strong", "", { go: "✓ go", care: "△ take care", unknown: "? not known", stop: "✕ stop" }[told.verdict]), ` ${rows.said.join(" ")} ${told.remedy || ""}`),
      rows.known.length ? list(rows.known.filter((one) => !one.shared).map((one) => make("li", "", `${plain(one.what)} ${one.is} (${assumed || one.from})`))) : null,
      rows.steps.length ? list(rows.steps.map((one) => make("li", "", make("strong", "", `${plain(one.what)} ${one.is}`), ", by ", anchor(one.formula), ` from ${one.of.map(plain).join("; ")}`))) : null,
      list(rows.known.filter((one) => one.shared).map((one) => make("li", "", `${plain(one.what)}: ${one.is} (${one.from || "basis not told"})`)))];
  };
})();
