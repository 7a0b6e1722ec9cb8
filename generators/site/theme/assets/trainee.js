/* One trainee's record on pages of drills: who it is, what is passed, readings in and a verdict out, kept in the journal as lines of the sign-off. */
(() => {
  "use strict";
  const keeper = window.almanacKeeper, records = window.almanacRecords, make = window.almanacMake, { letters, localDay } = window.almanacJournal;
  const { drills, teeth } = window.almanacDrills, judge = window.almanacDrill, KIND = "signoff", SHOWN = "almanac-trainee";
  const said = (key, value) => { try { if (value !== undefined) localStorage.setItem(key, value); return localStorage.getItem(key) || ""; } catch { return ""; } };

  const all = () => records.live(KIND).sort((a, b) => b.last.at - a.last.at);
  const nameOf = (pages) => pages.text("", "trainee") || "without a name";
  const open = () => { const found = all(), last = said(SHOWN); return found.find((pages) => pages.rec === last) || found[0] || null; };
  /* Lines of one trainee's readings that hold something, the oldest first. */
  const tries = (pages) => (pages ? pages.rows("readings").filter((line) => !line.gone).map(({ row }) => ({ row, drill: pages.text(row, "drill"), raw: pages.text(row, "raw"), passed: pages.text(row, "passed"), day: pages.text(row, "day") })).filter((one) => one.raw || one.passed) : []);
  const passed = (pages, drill) => tries(pages).some((one) => one.drill === drill && one.passed === "yes");
  /* A try as a line of the record: in the line that waits for it, where the form has one. */
  const keep = (pages, drill, raw, yes) => {
    const empty = pages.rows("readings").find(({ row, gone }) => !gone && pages.text(row, "drill") === drill && !pages.text(row, "raw") && !pages.text(row, "passed"));
    const row = empty ? empty.row : letters(10), { journal } = keeper, { rec } = pages;
    const edits = empty ? [] : [journal.type(rec, row, "~block", "readings"), journal.type(rec, row, "drill", drill)];
    for (const [field, text] of [["raw", raw], ["passed", yes ? "yes" : "no"], ["day", localDay()]]) edits.push(journal.type(rec, row, field, text));
    keeper.keep(KIND, edits);
  };
  window.almanacTrainee = { all, open, tries, passed, keep, nameOf };

  const part = document.querySelector(".alm-lesson");
  if (!part) return;
  const which = part.querySelector("select"), fresh = part.querySelector("input"), told = part.querySelector(".alm-told");
  const own = [...document.querySelectorAll(".alm-own")];
  const state = () => {
    const { is, why } = keeper.status;
    told.textContent = is === "not kept" ? `✕ Not kept: ${why}. Take the records out as a file on the sign-off page.` : is === "writing" ? "… Not written down yet." : open() ? "✓ Kept on this device, and nowhere else. The sign-off page takes it out as a file." : "Nothing is kept until a trainee has a name.";
  };
  const draw = () => {
    const found = all(), now = open();
    which.replaceChildren(...(found.length ? found.map((pages) => make("option", nameOf(pages), { value: pages.rec })) : [make("option", "none yet", { value: "" })]));
    if (now) which.value = now.rec;
    for (const box of own) if (drills[box.dataset.drill]) show(box, now);
    document.dispatchEvent(new CustomEvent("almanac-trainee", { detail: now }));
    state();
  };
  const show = (box, pages) => {
    const key = box.dataset.drill, drill = drills[key], line = box.querySelector(".alm-verdict"), field = box.querySelector(".alm-readings"), button = box.querySelector("button");
    const found = tries(pages).filter((one) => one.drill === key), last = found.filter((one) => one.passed === "yes").at(-1);
    const before = pages ? drill.before.filter((name) => !passed(pages, name)) : [];
    const verdict = field ? judge.told(drill, field.value, (box.querySelector(".alm-aim") || { value: "" }).value, teeth, window.almanacTyped.read) : { state: "empty", words: "" };
    const words = [verdict.words];
    if (verdict.state === "empty") {
      if (last) words.push(`✓ ${nameOf(pages)}: passed${last.day ? ` on ${last.day}` : ""}, ${found.length === 1 ? "at the first try" : `${found.length} tries`}.`);
      else if (found.length) words.push(`✗ ${nameOf(pages)}: not yet, ${found.length === 1 ? "1 try" : `${found.length} tries`}.`);
      if (before.length) words.push(`△ First: ${before.map((name) => drills[name].title).join("; ")}.`);
    } else if (["passed", "missed"].includes(verdict.state) && !pages) words.push("Give the trainee a name at the top, and it can be kept.");
    const text = words.filter(Boolean).join(" ");
    if (line.textContent !== text) line.textContent = text;
    button.hidden = !pages || (Boolean(field) && !["passed", "missed"].includes(verdict.state)) || (!field && Boolean(last));
    if (pages && field) button.textContent = `Keep it for ${nameOf(pages)}`;
    box.dataset.state = verdict.state;
    // A shut drill says how it stands.
    const fold = box.closest("details"), head = fold && fold.querySelector("summary");
    if (!head) return;
    const sign = head.querySelector(".alm-stands") || head.appendChild(make("span", "", { className: "alm-stands" }));
    sign.textContent = last ? "✓ passed" : found.length ? "✗ not yet" : "";
  };
  for (const box of own) {
    if (!drills[box.dataset.drill]) continue;
    box.hidden = false;
    box.addEventListener("input", () => show(box, open()));
    box.querySelector("button").addEventListener("click", () => {
      const pages = open(), field = box.querySelector(".alm-readings"), aim = box.querySelector(".alm-aim"), drill = drills[box.dataset.drill];
      if (!pages) return;
      const typed = field ? field.value.trim().split(/[\s;]+/).join(" ") : "paper seen";
      keep(pages, box.dataset.drill, `${typed}${drill.how === "count" ? ` of ${drill.tries}` : ["spread", "most", "off"].includes(drill.how) ? ` ${drill.unit}` : drill.how === "combed" ? ` ${drill.reads}` : ""}${aim ? `; aim ${aim.value.trim()}` : ""}`, field ? box.dataset.state === "passed" : true);
      if (field) field.value = "";
      if (aim) aim.value = "";
      draw();
    });
  }
  which.addEventListener("change", () => { said(SHOWN, which.value); draw(); });
  part.querySelector('[data-do="begin"]').addEventListener("click", () => {
    const name = fresh.value.trim();
    if (!name) { told.textContent = "– A name is wanted."; return; }
    said(SHOWN, records.start(KIND, { trainee: { text: name, unit: "" }, date: { text: localDay(), unit: "" } }));
    fresh.value = "";
    draw();
  });
  keeper.addEventListener("status", state);
  keeper.addEventListener("news", draw);
  window.addEventListener("almanac-comma", draw);
  (async () => { await records.begun; await keeper.load(KIND); part.hidden = false; draw(); part.dataset.ready = "yes"; })();
})();
