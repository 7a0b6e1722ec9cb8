/* The sign-off's own answer: what this trainee has passed, day by day, what is still open, and what may be done next. Words of the list of drills; nothing is worked here but counting. */
(() => {
  "use strict";
  const make = window.almanacMake, { drills } = window.almanacDrills, trainee = window.almanacTrainee;
  const show = (form) => {
    const out = form.root.querySelector('[data-out="progress"]'), { pages } = form;
    if (form.draft) { out.replaceChildren(make("h2", "How far"), make("p", "What is passed comes here, from the pages of the days.")); return; }
    const found = trainee.tries(pages), names = Object.keys(drills);
    const done = (key) => found.some((one) => one.drill === key && one.passed === "yes");
    const passed = names.filter(done), next = names.find((key) => !done(key) && drills[key].before.every(done));
    const list = make("ul");
    for (let day = 1; day <= 7; day += 1) {
      const mine = names.filter((key) => drills[key].day === day), open = mine.filter((key) => !done(key));
      if (!mine.length) continue;
      const tried = open.filter((key) => found.some((one) => one.drill === key));
      list.append(make("li", `${open.length ? "–" : "✓"} Day ${day}: ${mine.length - open.length} of ${mine.length} passed.${open.length ? ` Open: ${open.map((key) => `${tried.includes(key) ? "✗ " : ""}${drills[key].title}`).join("; ")}.` : ""}`));
    }
    out.replaceChildren(make("h2", "How far"), make("p", `${passed.length} of ${names.length} drills passed.${next ? ` Next: day ${drills[next].day}, ${drills[next].title}.` : passed.length === names.length ? " ✓ Every drill is passed: a competent person signs, or does not." : ""}`), list);
  };
  for (const form of window.almanacForms.filter((one) => one.kind === "signoff")) form.root.addEventListener("almanac-form", () => show(form));
})();
