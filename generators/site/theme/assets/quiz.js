/* Exercise sheets on the page: one at a time, each answer checked once, the score kept on this device for this edition. */
(() => {
  "use strict";
  const quiz = document.querySelector(".alm-quiz");
  if (!quiz) return;
  const parts = [...quiz.querySelectorAll("[data-sheet]")];
  const choose = quiz.querySelector(".alm-sheets");
  const name = (sheet) => `almanac-quiz:${quiz.dataset.edition}:${sheet}`;
  const kept = (key) => { try { const found = JSON.parse(localStorage.getItem(key)); return found && typeof found === "object" ? found : {}; } catch { return {}; } };
  const keep = (key, value) => { try { localStorage.setItem(key, JSON.stringify(value)); return true; } catch { return false; } };

  for (const part of parts) {
    const lines = [...part.querySelectorAll("li")];
    const again = part.querySelector(".alm-again");
    let given = kept(name(part.dataset.sheet));
    const right = (line, told) => {
      const near = Math.abs(told.figure - Number(line.dataset.right)) <= Number(line.dataset.step) * 1.0001;
      return near && (line.dataset.choice === "" || line.dataset.choice === told.choice);
    };
    const show = () => {
      let done = 0, good = 0, decided = true;
      lines.forEach((line, place) => {
        const told = given[place], known = Boolean(told) && Number.isFinite(told.figure);
        const input = line.querySelector("input"), verdict = line.querySelector(".alm-verdict");
        for (const key of line.querySelectorAll("input, button")) key.disabled = known;
        for (const key of line.querySelectorAll("[aria-pressed]")) key.setAttribute("aria-pressed", String(known && told.choice === key.value));
        line.querySelector("details").hidden = !known;
        if (!known) { input.value = ""; verdict.textContent = ""; return; }
        input.value = String(told.figure).replace("-", "−");
        done += 1;
        decided = decided && line.dataset.choice === told.choice;
        good += right(line, told) ? 1 : 0;
        verdict.textContent = right(line, told) ? "✓ Right." : "✗ Not right: open the answer.";
      });
      part.querySelector(".alm-score").textContent = `${good} right of ${done} tried, ${lines.length} in all.` + (done === lines.length ? (good < lines.length - 1 ? " ✗ Not yet: all but one must be right." : decided ? " ✓ Passed." : " ✗ Not yet: go or wait was wrong.") : "");
      again.hidden = done === 0;
    };
    lines.forEach((line, place) => {
      const input = line.querySelector("input");
      line.querySelector(".alm-try").hidden = false;
      const presses = [...line.querySelectorAll("[aria-pressed]")];
      for (const key of presses) key.addEventListener("click", () => { for (const one of presses) one.setAttribute("aria-pressed", String(one === key)); });
      const check = () => {
        const read = window.almanacTyped.read(input.value, "1"), figure = read.value !== null && read.single ? read.value : NaN, picked = presses.find((key) => key.getAttribute("aria-pressed") === "true");
        const verdict = line.querySelector(".alm-verdict");
        if (read.ask) {
          verdict.replaceChildren("△ That can mean two things. It is: ", ...read.ask.map((one) => { const key = document.createElement("button"); key.type = "button"; key.className = "alm-check"; key.textContent = one.said; key.addEventListener("click", () => { window.almanacTyped.comma(one.choice); check(); }); return key; }));
          return;
        }
        if (!Number.isFinite(figure)) { verdict.textContent = "– A number is wanted."; return; }
        if (presses.length && !picked) { verdict.textContent = "– Press Go or Wait too."; return; }
        back.hidden = true;
        given[place] = { figure, choice: picked ? picked.value : "" };
        const kept = keep(name(part.dataset.sheet), given);
        show();
        if (!kept) verdict.textContent += " ✕ Not kept: this device has no room.";
      };
      line.querySelector(".alm-check").addEventListener("click", check);
      input.addEventListener("keydown", (event) => { if (event.key === "Enter") check(); });
    });
    // Begun again by a slip: what was answered can be had back until the first new answer.
    let before = null;
    const back = document.createElement("button");
    back.type = "button";
    back.className = "alm-check alm-back-again";
    back.textContent = "My answers back";
    back.hidden = true;
    again.after(back);
    const set = (answers) => { given = answers; keep(name(part.dataset.sheet), given); show(); };
    again.addEventListener("click", () => { before = given; set({}); back.hidden = false; lines[0].querySelector("input").focus(); });
    back.addEventListener("click", () => { back.hidden = true; set(before); });
    show();
  }
  const say = (sheet) => {
    for (const part of parts) part.hidden = part.dataset.sheet !== sheet;
    for (const key of choose.querySelectorAll("button")) key.setAttribute("aria-pressed", String(key.value === sheet));
  };
  choose.hidden = false;
  choose.addEventListener("click", (event) => {
    const key = event.target.closest("button");
    if (!key) return;
    say(key.value);
    keep("almanac-quiz-sheet", { is: key.value });
  });
  const last = kept("almanac-quiz-sheet").is;
  say(parts.some((part) => part.dataset.sheet === last) ? last : parts[0].dataset.sheet);
})();
