/* A paper that is signed: what is not known is printed after "subject to", or it is not signed; what was signed is frozen, and a change is a variation. */
(() => {
  "use strict";
  const keeper = window.almanacKeeper, make = window.almanacMake;
  const KNOWN = [["age", "the age of the building"], ["old-finish", "the old finish"], ["lead-is", "lead"], ["asbestos-is", "asbestos"]];

  /* What is not known, of all that has to be before a paper is signed. */
  const unknown = (held) => KNOWN.filter(([name]) => !held[name] || !held[name].text.trim() || held[name].text === "unknown" || /^(\?+|not known|unknown|don.?t know)$/i.test(held[name].text.trim())).map(([, words]) => words);
  /* What still has to stand in the line that begins with "subject to". */
  const lacking = (held) => { const said = (held.subject ? held.subject.text : "").toLowerCase(), at = said.indexOf("subject to"); return unknown(held).filter((words) => at < 0 || !said.slice(at).includes(words.replace(/^the /, ""))); };
  /* The whole paper as text: every label with what stands there. */
  const written = (form) => form.blocks.flatMap((block) => [block.part.querySelector("legend").textContent.toUpperCase(), ...form.rows(block).flatMap((row) => form.entries(row).filter((one) => one.is !== "photo" && one.held.text).map((one) => {
    const sign = one.part.querySelector(".alm-unit"), unit = one.is === "number" && one.held.unit ? ` ${one.held.unit.replace("money", form.coin)}` : "";
    return `${one.part.querySelector("label").firstChild.textContent.trim()}: ${one.is === "tick" ? "yes" : one.word(one.held.text)}${sign ? unit : ""}`;
  })), ""]).join("\n").trim();
  window.almanacPaper = { unknown, lacking, written };

  for (const form of window.almanacForms.filter((one) => one.root.querySelector('[data-do="sign"]'))) {
    const out = form.root.querySelector('[data-out="paper"]'), frozen = () => { const { pages } = form; return (pages && pages.text("", "~frozen")) || ""; };
    const show = () => {
      const text = frozen(), held = form.held(), short = unknown(held);
      for (const { part } of form.blocks) part.disabled = Boolean(text) || !form.rec;
      form.root.querySelector('[data-do="sign"]').hidden = Boolean(text);
      form.root.classList.toggle("alm-signed", Boolean(text));
      if (!text) { out.replaceChildren(make("p", short.length ? `? Not known: ${short.join(", ")}. It can only be signed “subject to” that.` : "✓ What has to be known before it is signed is known.")); return; }
      const now = written(form);
      out.replaceChildren(make("h2", `Signed on ${held["signed-on"].text}`), make("pre", text, { className: "alm-frozen" }),
        make("p", now === text ? "This text is frozen. A change is a variation." : "△ Something was typed into it elsewhere afterwards. The text above is what was signed; a change is a variation."));
    };
    form.root.addEventListener("almanac-form", show);
    form.root.addEventListener("almanac-do", (event) => {
      if (event.detail.what !== "sign" || frozen()) return;
      form.flush();
      const held = form.held(), wants = lacking(held), none = ["signed-us", "signed-customer", "signed-on"].filter((name) => !held[name].text.trim());
      if (wants.length) { form.told.textContent = `✕ Not signed. Not known: ${wants.join(", ")}. Find it out, or write in its line: “Subject to ${wants.join(", ")}: if it is there, work stops and a variation says what then.”`; return; }
      if (none.length) { form.told.textContent = "✕ Not signed: both names and the day have to stand there."; return; }
      form.write(() => [keeper.journal.type(form.rec, "", "~frozen", written(form))]);
      form.draw();
      form.told.textContent = "✓ Signed and frozen. What changes from now on is a variation.";
    });
  }
})();
