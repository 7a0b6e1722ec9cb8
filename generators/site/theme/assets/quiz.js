/* Exercise sheets on the page: one at a time, each answer checked once, the score kept on this device for this edition. */
(() => {
  "use strict";
  const quiz = document.querySelector(".alm-quiz");
  if (!quiz) return;
  const parts = [...quiz.querySelectorAll("[data-sheet]")];
  const choose = quiz.querySelector(".alm-sheets");
  const name = (sheet) => `almanac-quiz:${quiz.dataset.edition}:${sheet}`;
  const kept = (key) => { try { const found = JSON.parse(localStorage.getItem(key)); return found && typeof found === "object" ? found : {}; } catch { return {}; } };
  const keep = (key, value) => { try { localStorage.setItem(key, JSON.stringify(value)); } catch { /* nothing is kept here */ } };
  const number = (text) => { const bare = text.replace(",", ".").replace("−", "-").trim(); return bare === "" ? NaN : Number(bare); };

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
        const figure = number(input.value), picked = presses.find((key) => key.getAttribute("aria-pressed") === "true");
        const verdict = line.querySelector(".alm-verdict");
        if (!Number.isFinite(figure)) { verdict.textContent = "– A number is wanted."; return; }
        if (presses.length && !picked) { verdict.textContent = "– Press Go or Wait too."; return; }
        given[place] = { figure, choice: picked ? picked.value : "" };
        keep(name(part.dataset.sheet), given);
        show();
      };
      line.querySelector(".alm-check").addEventListener("click", check);
      input.addEventListener("keydown", (event) => { if (event.key === "Enter") check(); });
    });
    again.addEventListener("click", () => { given = {}; keep(name(part.dataset.sheet), given); show(); lines[0].querySelector("input").focus(); });
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
