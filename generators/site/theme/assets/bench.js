/* At the bench and at the door: the beat as clicks or shakes, a label to write on the pot, and what is done on leaving, each with its time. Figures are the day's chain's own. */
(() => {
  "use strict";
  const { make, key } = window.almanacPanel, kept = window.almanacKept, { printed, clock } = window.almanacDayAnswers;
  let sound = null, beating = null, how = "", per = 0;
  const stop = () => { clearInterval(beating); beating = null; how = ""; };
  /* Beats by the sound's own clock, a second ahead, so that a busy page does not make them limp. */
  const click = () => {
    let next = sound.currentTime + 0.1;
    const fill = () => {
      while (next < sound.currentTime + 1) {
        const tone = sound.createOscillator(), loud = sound.createGain();
        tone.frequency.value = 1200;
        loud.gain.setValueAtTime(0.6, next);
        loud.gain.exponentialRampToValueAtTime(0.001, next + 0.05);
        tone.connect(loud).connect(sound.destination);
        tone.start(next);
        tone.stop(next + 0.06);
        next += 60 / per;
      }
    };
    fill();
    beating = setInterval(fill, 300);
  };
  const begin = (way) => {
    const was = how;
    stop();
    if (was === way) return;
    how = way;
    if (way === "click") { const Sound = window.AudioContext || window.webkitAudioContext; if (!Sound) { how = ""; return; } sound = sound || new Sound(); sound.resume(); click(); } else { navigator.vibrate(40); beating = setInterval(() => navigator.vibrate(40), 60000 / per); }
  };
  document.addEventListener("visibilitychange", () => { if (document.hidden) stop(); });

  const LEAVING = { alarms: "Smoke alarms uncovered, tested", rags: "Oily rags laid out singly, or under water", gun: "Gun cleaned, needle and nozzle out", tape: "Tape off, before the film is hard", air: "Room aired, fan left as it is wanted", sign: "Wet-paint sign up", power: "Turbine cold, power off", frost: "Paint where it cannot freeze" };
  let leaving = null;
  const record = () => { const keeper = window.almanacKeeper, rec = `leaving-${keeper.journal.dev.slice(0, 8)}-${kept.clock.now().slice(0, 10)}`; return { keeper, rec, pages: keeper.journal.records.get(rec) }; };
  const tick = (name) => {
    const { keeper, rec, pages } = record(), { journal } = keeper, done = pages ? pages.text("", name) : "";
    keeper.keep("leaving", [...(pages ? [] : [journal.type(rec, "", "~kind", "leaving")]), journal.type(rec, "", name, done ? "" : kept.clock.now().slice(11))]);
    list();
  };
  const list = () => {
    if (!leaving) return;
    const { pages, keeper } = record(), { is, why } = keeper.status;
    leaving.replaceChildren(...Object.entries(LEAVING).map(([name, words]) => {
      const at = pages ? pages.text("", name) : "", button = key(`${at ? "☒" : "☐"} ${words}${at ? `, ${at}` : ""}`, () => tick(name), "alm-key alm-leave");
      button.setAttribute("aria-pressed", String(Boolean(at)));
      return button;
    }), make("p", "alm-note", is === "kept" ? (pages ? "✓ Kept with its times, for today." : "Press each when it is done: its time is kept.") : is === "writing" ? "… Not written down yet." : `✕ Not kept: ${why}.`));
  };

  window.almanacBench = (part, worked, situation) => {
    const { answers, out } = worked, system = kept.system(), beat = answers.beat, hidden = answers.allowed.verdict === "stop", old = per;
    per = !hidden && typeof beat.value === "number" ? beat.value : 0;
    if (beating && per !== old) { const way = how; stop(); if (per) begin(way); }
    const pressed = (way, words) => { const button = key(words, () => { begin(way); for (const one of button.parentElement.children) one.setAttribute("aria-pressed", String(one.dataset.way === how)); }); button.dataset.way = way; button.setAttribute("aria-pressed", String(how === way)); return button; };
    const names = window.almanacDayFacts.names, doses = kept.get("dose"), last = doses && doses[doses.length - 1], cup = kept.get("cup-time"), paint = situation.words.coating ? names.coatings[situation.words.coating][0] : "";
    const label = [paint || "Which paint?", situation.words.kit ? `for ${names.kits[situation.words.kit]}` : "", kept.get("pot-litres") ? kept.get("pot-litres").text : "", last ? `${last.share} % thinner in all, ${last.seconds} s in ${names.cups[last.cup || situation.words.cup || out.held["kit.cup"].text] || "a cup not named"}` : cup ? `no thinner, ${cup.text} in ${names.cups[situation.words.cup || out.held["kit.cup"].text] || "a cup not named"}` : "not timed",
      kept.get("mixed-at") ? `mixed ${kept.get("mixed-at").text.replace("T", " ")}` : "", !hidden && answers["clean-by"].value !== undefined && answers["clean-by"].until !== undefined ? `out of the gun by ${clock(answers["clean-by"].until, situation.day)}` : "", situation.day].filter(Boolean);
    leaving = make("div", "alm-panel-choices");
    part.replaceChildren(make("h3", "", "Beat"), per ? make("div", "", make("p", "", `${printed("beat", beat, system).replace("1/min", "strokes a minute")}, for ${paint}.`), make("div", "alm-panel-choices", pressed("click", "As clicks"), navigator.vibrate ? pressed("shake", "As shakes") : null), make("p", "alm-note", "While this page is in front and the phone is not silent.")) : make("p", "", hidden ? "Nothing is sprayed." : `– ${beat.because}`),
      make("h3", "", "Write on the pot"), make("ul", "", ...label.map((line) => make("li", "", line))), make("h3", "", "Leaving"), leaving);
    kept.join().then(() => window.almanacKeeper.load("leaving")).then(() => { window.almanacKeeper.addEventListener("status", list); list(); });
  };
})();
