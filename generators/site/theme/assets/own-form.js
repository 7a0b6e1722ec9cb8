/* Under the form of an own kit or paint: what is still wanted, what is wrong, which stop stands on it, and a key that takes it into today's screen. */
(() => {
  "use strict";
  const make = window.almanacMake, SORT = { "own-kit": "kit", "own-paint": "coating" };
  const labels = (form) => Object.fromEntries(form.every().map((one) => [one.name, one.part.querySelector("label").firstChild.textContent.trim()]));
  const show = (form) => {
    const out = form.root.querySelector('[data-out="own"]'), sort = SORT[form.kind], held = form.held(), { problems, missing } = window.almanacOwn.check(sort, held), called = labels(form);
    const stops = sort === "coating" ? window.almanacOwn.stops(held) : [], list = make("ul");
    for (const [entry, wanted, came, mend] of problems) list.append(make("li", `✕ ${called[entry] || entry}: wanted ${wanted}; came “${came}”; ${mend}.`));
    if (missing.length) list.append(make("li", `– Still wanted: ${missing.map((entry) => called[entry] || entry).join(", ")}.`));
    for (const stop of stops) list.append(make("li", `✕ STOP. ${window.almanacOwnFields.hard[stop] || stop}. It is kept, and every answer for it is a stop.${stop === "isocyanates" && !(held.hardener || {}).text ? " Nobody said what the hardener is: read it on the second tin and its safety data sheet." : ""}`));
    const good = !problems.length && !missing.length, parts = [make("h2", good ? "In use" : "Not in use yet"), list];
    if (good) {
      const use = make("button", `Use it today`, { type: "button", className: "md-button" });
      use.addEventListener("click", () => {
        form.flush();
        window.almanacAtHand.ready().then(() => window.almanacDayAnswers.things()).then(() => {
          window.almanacOwnThings.place();
          window.almanacKept.put(sort, { text: form.rec, at: window.almanacKept.clock.now() });
          const link = make("a", "Today’s screen", { href: new URL("../index.html", window.almanacDayAnswers.base("./")).href });
          form.told.replaceChildren("✓ In hand: ", link, ".");
        });
      });
      parts.push(make("p", "It stands in the lists of today’s screen and in every table that this device can work. Other tables were made at build."), use);
    }
    out.replaceChildren(...parts);
  };
  for (const form of window.almanacForms.filter((one) => SORT[one.kind])) {
    const ready = window.almanacBring("day/own.js", "own.js");
    form.root.addEventListener("almanac-form", () => ready.then(() => show(form)));
  }
})();
