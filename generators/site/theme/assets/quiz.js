/* Exercise sheets on the page: one at a time, each answer checked once and kept in the journal, for each trainee and edition; a sheet that is done goes into the trainee's own record. */
(() => {
  "use strict";
  const quiz = document.querySelector(".alm-quiz");
  if (!quiz) return;
  const keeper = window.almanacKeeper, records = window.almanacRecords, trainee = window.almanacTrainee, make = window.almanacMake;
  const parts = [...quiz.querySelectorAll("[data-sheet]")], choose = quiz.querySelector(".alm-sheets"), KIND = "quiz", LAST = "almanac-quiz-sheet";
  const { edition, drill } = quiz.dataset;

  /* The record of one sheet: its name comes of edition, sheet and trainee, so that two phones write into one. */
  const nameOf = (sheet) => window.almanacCarry.quizName(edition, sheet, (trainee.open() || { rec: "" }).rec);
  const pagesOf = (sheet) => keeper.journal.records.get(nameOf(sheet));
  const givenOf = (sheet) => {
    const pages = pagesOf(sheet), out = {};
    if (pages) for (const { row, field, text } of pages.fields()) {
      const found = !row && text && /^answer-(\d+)$/.exec(field);
      if (found) { const [figure, choice] = text.split(" "); out[found[1]] = { figure: figure === "-" ? NaN : Number(figure), choice: choice || "" }; }
    }
    return out;
  };
  const write = (sheet, answers) => {
    const rec = nameOf(sheet), { journal } = keeper, edits = [], now = trainee.open();
    if (!journal.records.has(rec)) for (const [field, text] of [["~kind", KIND], ["~zone", records.zone()], ["edition", edition], ["sheet", sheet], ...(now ? [["trainee", now.rec], ["named", trainee.nameOf(now)]] : [])]) edits.push(journal.type(rec, "", field, text));
    for (const [place, one] of Object.entries(answers)) edits.push(journal.type(rec, "", `answer-${place}`, one ? `${Number.isFinite(one.figure) ? one.figure : "-"} ${one.choice}`.trim() : ""));
    keeper.keep(KIND, edits);
  };
  const wants = (line, choice) => line.dataset.wants === "*" || line.dataset.wants.split(" ").filter(Boolean).includes(choice);
  const right = (line, told) => {
    const near = line.dataset.right === "" || Math.abs(told.figure - Number(line.dataset.right)) <= Number(line.dataset.step) * 1.0001;
    return near && line.dataset.choice === told.choice;
  };

  for (const part of parts) {
    const lines = [...part.querySelectorAll("li")], again = part.querySelector(".alm-again"), { sheet } = part.dataset;
    const score = (given) => {
      let done = 0, good = 0, decided = true;
      lines.forEach((line, place) => { const told = given[place]; if (!told) return; done += 1; good += right(line, told) ? 1 : 0; if ("decides" in line.dataset) decided = decided && line.dataset.choice === told.choice; });
      return { done, good, decided, passed: done === lines.length && good >= lines.length - 1 && decided };
    };
    const show = () => {
      const given = givenOf(sheet);
      lines.forEach((line, place) => {
        const told = given[place], input = line.querySelector("input"), verdict = line.querySelector(".alm-verdict");
        for (const key of line.querySelectorAll(".alm-try input, .alm-try button")) key.disabled = Boolean(told);
        line.querySelector("details").hidden = !told;
        if (!told) { if (line.dataset.was) { delete line.dataset.was; verdict.textContent = ""; if (input) input.value = ""; for (const key of line.querySelectorAll("[aria-pressed]")) key.setAttribute("aria-pressed", "false"); } return; }
        line.dataset.was = "yes";
        for (const key of line.querySelectorAll("[aria-pressed]")) key.setAttribute("aria-pressed", String(told.choice === key.value));
        if (input) input.value = Number.isFinite(told.figure) ? String(told.figure).replace("-", "−") : "";
        verdict.textContent = right(line, told) ? "✓ Right." : "✗ Not right: open the answer.";
      });
      const { done, good, decided } = score(given);
      part.querySelector(".alm-score").textContent = `${good} right of ${done} tried, ${lines.length} in all.` + (done === lines.length ? (good < lines.length - 1 ? " ✗ Not yet: all but one must be right." : decided ? " ✓ Passed." : " ✗ Not yet: go, care or wait was wrong.") : "");
      again.hidden = done === 0;
    };
    part.addEventListener("almanac-show", show);
    lines.forEach((line, place) => {
      const input = line.querySelector("input"), presses = [...line.querySelectorAll("[aria-pressed]")], verdict = line.querySelector(".alm-verdict");
      line.querySelector(".alm-try").hidden = false;
      for (const key of presses) key.addEventListener("click", () => { for (const one of presses) one.setAttribute("aria-pressed", String(one === key)); });
      const check = () => {
        const picked = presses.find((key) => key.getAttribute("aria-pressed") === "true"), choice = picked ? picked.value : "";
        const read = input ? window.almanacTyped.read(input.value, "1") : null, figure = read && read.value !== null && read.single ? read.value : NaN;
        if (read && read.ask) {
          verdict.replaceChildren("△ That can mean two things. It is: ", ...read.ask.map((one) => { const key = make("button", one.said, { type: "button", className: "alm-check" }); key.addEventListener("click", () => { window.almanacTyped.comma(one.choice); check(); }); return key; }));
          return;
        }
        if (presses.length && !picked) { verdict.textContent = `– Press ${presses.map((key) => key.textContent).join(" or ")}.`; return; }
        if (wants(line, choice) && !Number.isFinite(figure)) { verdict.textContent = "– A number is wanted."; return; }
        back.hidden = true;
        const before = score(givenOf(sheet));
        write(sheet, { [place]: { figure: wants(line, choice) ? figure : NaN, choice } });
        show();
        const now = score(givenOf(sheet)), who = trainee.open();
        if (drill && who && before.done < lines.length && now.done === lines.length) trainee.keep(who, drill, `${now.good} of ${lines.length}, sheet ${sheet}`, now.passed);
      };
      line.querySelector(".alm-check").addEventListener("click", check);
      if (input) input.addEventListener("keydown", (event) => { if (event.key === "Enter") check(); });
    });
    // Begun again by a slip: what was answered can be had back until the first new answer.
    let before = null;
    const back = make("button", "My answers back", { type: "button", className: "alm-check alm-back-again", hidden: true });
    again.after(back);
    again.addEventListener("click", () => { before = givenOf(sheet); write(sheet, Object.fromEntries(Object.keys(before).map((place) => [place, null]))); show(); back.hidden = false; const first = lines[0].querySelector("input, button"); if (first) first.focus(); });
    back.addEventListener("click", () => { back.hidden = true; write(sheet, before); show(); });
  }
  const showAll = () => {
    for (const part of parts) part.dispatchEvent(new CustomEvent("almanac-show"));
    const other = records.live(KIND).filter((pages) => pages.text("", "edition") !== edition), line = quiz.querySelector(".alm-earlier");
    line.hidden = !other.length;
    line.textContent = `Kept too, from other editions' sheets: ${other.map((pages) => `sheet ${pages.text("", "sheet")} (${pages.fields().filter(({ field, text }) => text && field.startsWith("answer-")).length} answers)`).join(", ")}. They go out with the file; these questions are others.`;
    const { is, why } = keeper.status;
    if (is === "not kept") for (const part of parts) part.querySelector(".alm-score").textContent += ` ✕ Not kept: ${why}.`;
  };
  const say = (sheet) => {
    for (const part of parts) part.hidden = part.dataset.sheet !== sheet;
    for (const key of choose.querySelectorAll("button")) key.setAttribute("aria-pressed", String(key.value === sheet));
  };
  const last = (is) => { try { if (is) localStorage.setItem(LAST, JSON.stringify({ is })); return (JSON.parse(localStorage.getItem(LAST)) || {}).is; } catch { return undefined; } };
  choose.hidden = false;
  choose.addEventListener("click", (event) => { const key = event.target.closest("button"); if (key) { say(key.value); last(key.value); } });
  say(parts.some((part) => part.dataset.sheet === last()) ? last() : parts[0].dataset.sheet);
  document.addEventListener("almanac-trainee", showAll);
  keeper.addEventListener("status", () => { if (keeper.status.is === "not kept") showAll(); });
  (async () => { await records.begun; await keeper.load(KIND); showAll(); quiz.dataset.ready = "yes"; })();
})();
