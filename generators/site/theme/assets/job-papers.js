/* Papers from a job sheet: each a record of its own, begun from what was typed and worked, and filled on in place. */
(() => {
  "use strict";
  const facts = window.almanacJobFacts, make = window.almanacMake, keeper = window.almanacKeeper, job = window.almanacJob;
  const PAGES = { quote: "quote", buying: "buying-list", loading: "load-list", neighbour: "neighbours-note", method: "method-and-risks", variation: "variation", invoice: "invoice", cancel: "cancellation" };
  const said = (text) => ({ text: String(text || ""), unit: "" });
  const coins = (held) => ({ text: held && Number.isFinite(held.likely) ? held.likely.toFixed(2) : "", unit: "money" });
  const KNOWN = [["age", "the age of the building"], ["old-finish", "the old finish"], ["lead-is", "lead"], ["asbestos-is", "asbestos"]];

  const surfaceWords = (form) => form.rows(form.block("surfaces")).map((row) => {
    const word = (name) => { const one = form.find(row, name); return one.word(one.held.text); };
    return `${word("count")} × ${word("thing")}${word("where") ? `, ${word("where")}` : ""} (${word("condition").split(":")[0]})`;
  }).join("\n");
  const systemWords = (form, worked) => {
    const prep = worked.job.stages.filter((one) => one.when === "before" && !["gun"].includes(one.per)).map((one) => facts["stage-words"][one.key].label.toLowerCase());
    const rows = form.rows(form.block("paints")).map((row) => { const one = form.words(row), tin = facts.coatings[one.coating]; return `${[tin ? tin.name : "", one.named].filter(Boolean).join(", ") || "paint"}: coats ${form.find(row, "coats").held.text}`; });
    return [`Preparing: ${prep.join(", ")}.`, ...rows].join("\n");
  };
  const leftOut = (form, held) => [held["not-in"].text, ...form.rows(form.block("stages")).filter((row) => form.words(row).by !== "us" && form.words(row).stage).map((row) => `${form.find(row, "stage").word(form.words(row).stage)}: ${form.words(row).by === "customer" ? "done by the customer" : "not done"}`)].filter(Boolean).join("\n");
  const subject = (held) => { const none = KNOWN.filter(([name]) => !held[name].text.trim() || held[name].text === "unknown").map(([, words]) => words); return none.length ? `Subject to ${none.join(", ")}: not known on the day of this paper. If it is found, work stops and a variation says what then.` : ""; };

  const fields = (form, kind) => {
    const held = form.held(), worked = form.worked, spray = worked.found[0][2], of = (name) => spray.held[name], count = (name) => job.brief(of(name).likely);
    const who = { title: held.title, customer: held.client, address: held.address, date: said(window.almanacRecords.localDay()) };
    const known = { age: held.age, "old-finish": held["old-finish"], "lead-is": held["lead-is"], "asbestos-is": held["asbestos-is"], subject: said(subject(held)) };
    const names = worked.job.paints.map((paint, place) => job.paintName(paint, place)), days = `${count("visits")} visits over ${count("days")} days${held["first-day"].text ? `, from ${held["first-day"].text}` : ""}; paint has to dry between them`;
    if (kind === "quote") return [{ ...who, ...known, scope: said(surfaceWords(form)), system: said(held.system.text || systemWords(form, worked)), "left-out": said(leftOut(form, held)), moves: held.moves, light: held.light,
      look: said(held.sample.text === "yes" ? "as the sample that was approved" : ""), air: said(`The rooms are aired while we work and until the smell is gone; nobody but us in them, children and pets out of the way.${held.people.text ? ` ${held.people.text}` : ""}`), days: said(days),
      price: coins(of("asked")), tax: held.tax, deposit: coins(of("down")) }, {}];
    if (kind === "buying") return [who, { things: [...worked.job.paints.map((paint, place) => ({ what: said(names[place]), "how-much": said(job.tinWords(spray.parts.paints[place], form)) })),
      ...worked.job.paints.map((paint, place) => [paint, place]).filter(([, place]) => spray.parts.paints[place]["thinner-volume"].likely > 0).map(([, place]) => ({ what: said(`thinner for ${names[place]}`), "how-much": said(job.litres(spray.parts.paints[place]["thinner-volume"].likely, form)) })),
      ...["abrasive", "filler, caulk", "tape, sheet", "strainers, filters", "wash, containers for washings"].map((what) => ({ what: said(what) }))] }];
    const lines = (block) => ({ [block]: (facts.papers[kind] || []).map((one) => Object.fromEntries(Object.entries(one).map(([name, text]) => [name, said(text)]))) });
    if (kind === "loading") return [who, { things: [...names.map((name, place) => ({ what: said(`${name}: ${job.tinWords(spray.parts.paints[place], form)}`) })), ...lines("things").things] }];
    if (kind === "method") return [{ ...who, ...known, paints: said(names.join("; ")), people: held.people }, lines("stages")];
    if (kind === "neighbour") return [{ title: held.address.text ? held.address : held.title, from: held["first-day"], what: said(`We spray ${names.join(" and ")}. You may smell it; what drifts is why we ask.`) }, {}];
    if (kind === "invoice") return [{ ...who, tax: held.tax, paid: coins(of("down")), due: coins(of("due")) }, { lines: [{ what: said(`${held.title.text || "The job"}, as quoted`), amount: coins(of("asked")) }] }];
    return [{ ...who, ...known }, {}];
  };
  window.almanacJobPapers = { fields };

  for (const form of window.almanacForms.filter((one) => one.kind === "job")) form.root.addEventListener("almanac-do", (event) => {
    const { what } = event.detail;
    if (!Object.hasOwn(PAGES, what)) return;
    form.flush();
    if (!form.worked || !Number.isFinite(form.worked.found[0][2].held.price.likely)) { form.told.textContent = "– Not yet: the job has no price."; return; }
    window.almanacRecords.start(what, ...fields(form, what));
    const link = make("a", "open it");
    link.href = `${PAGES[what]}.html`;
    const say = () => {
      const { is, why } = keeper.status;
      if (is === "writing") return;
      keeper.removeEventListener("status", say);
      form.told.textContent = is === "kept" ? "✓ Begun from this job: " : `✕ Not kept: ${why}.`;
      if (is === "kept") form.told.append(link);
    };
    keeper.addEventListener("status", say);
    say();
  });
})();
