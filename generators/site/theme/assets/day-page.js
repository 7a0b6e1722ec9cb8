/* Today: five sentences with the readings standing inside them, each answered by the day's chain. */
(() => {
  "use strict";
  const root = document.getElementById("alm-day");
  if (!root || !window.almanacDay) return;
  const { make, key, show, shut } = window.almanacPanel, kept = window.almanacKept, asks = window.almanacReadings;
  const { load, ready, work, printed, clock, settles, why } = window.almanacDayAnswers, day = window.almanacDay, facts = window.almanacDayFacts;
  const MARK = { go: ["✓", "go"], care: ["△", "take care"], unknown: ["?", "not known"], stop: ["✕", "stop"] };
  const DOOR = 2; // metres: what a door's height is taken for
  const US_DOOR = { text: "6.56 ft", value: DOOR, low: DOOR, high: DOOR };
  const inside = (name) => { const one = kept.get(name); return one && !Array.isArray(one) ? one.text : null; };
  const strong = (words) => make("strong", "alm-day-figure", words);

  let now = null, situation = null;
  /* A reading where it stands: its words above, what it is and when it was read beneath; a rule to write on where there is none. */
  const reading = (name, label, wanted) => {
    const words = asks.shown(name), one = kept.get(name), last = Array.isArray(one) ? one[one.length - 1] : one;
    const old = last && (last.from || (day.readings[name].grows_old && now && now.out.held[name] && now.out.held[name].stale.length > 0));
    const when = last && last.at ? clock(kept.minutes(last.at, situation.day), situation.day) : "";
    const button = key(make("span", "alm-day-is", words === null ? (wanted ? "tell" : " ") : words), () => asks.ask(name, button, wanted ? following : null), `alm-day-reading${words === null ? " alm-day-blank" : ""}${wanted || old ? " alm-day-wanted" : ""}`);
    button.dataset.reading = name;
    button.append(make("span", "alm-day-when", `${wanted || old ? "? " : ""}${label || name.replaceAll("-", " ")}${when && !old ? ` ${when}` : old ? ` ${when}, again` : ""}`));
    button.setAttribute("aria-label", `${asks.title(name)}: ${words === null ? "not known" : words}${when ? `, read ${when}` : ""}${old ? ", read it again" : ""}`);
    return button;
  };
  const set = (sort, label) => {
    const is = kept.set(sort), button = key(make("span", "alm-day-is", sort === "pot" && !is.readings.coating ? "which paint?" : asks.called(sort, kept.chosen(sort), is)), () => (sort === "pot" && !is.readings.coating ? asks.ask("coating", button) : asks.which(sort, button)), `alm-day-reading${sort === "pot" && !situation.words.coating ? " alm-day-wanted" : ""}`);
    button.dataset.reading = `set-${sort}`;
    button.append(make("span", "alm-day-when", label));
    return button;
  };
  /* After a reading that was wanted: the next one that is, until the first line is settled. */
  const following = (name) => {
    answer().then(() => {
      const next = now.answers.spray.verdict === "unknown" ? settles("spray", now) : null;
      const from = root.querySelector(`[data-reading="${next ? next[0] : name}"]`) || root;
      if (next && next[0] !== name && next[0] !== "kit" && next[0] !== "coating") asks.ask(next[0], from, following); else shut();
    });
  };

  /* The stroke that the seconds are for: a length that can be seen, until somebody measures one. */
  const door = () => {
    const button = reading("stroke-length", "one stroke");
    if (!kept.get("stroke-length")) { button.classList.remove("alm-day-blank"); button.firstChild.textContent = "A door’s height"; button.lastChild.textContent = `one stroke, ${situation.texts["stroke-length"]}`; }
    return button;
  };
  const line = (name, word, lead, ...parts) => {
    const mark = key(make("span", "alm-day-sign", MARK[word][0]), () => because(name, mark), "alm-day-mark");
    mark.append(make("span", "alm-day-when", "why"));
    mark.setAttribute("aria-label", `${MARK[word][1]}: why`);
    const item = make("li", `alm-day-line alm-day-${word}`, mark, make("div", "alm-day-words", lead ? make("strong", "alm-day-lead", lead) : null, ...parts));
    item.dataset.line = name;
    return item;
  };
  const wants = (name) => { const found = settles(name, now); return found && !["kit", "coating"].includes(found[0]) ? found[0] : null; };

  const sentences = () => {
    const { answers } = now, system = kept.system(), outdoors = situation.words.place === "outdoors", chosen = situation.words.kit && situation.words.coating, wanted = chosen && answers.spray.verdict === "unknown" ? wants("spray") : null;
    const until = (told) => (told.until === undefined ? "" : ` until ${clock(told.until, situation.day)}`), figure = (name) => printed(name, answers[name], system);
    const shutAll = answers.allowed.verdict === "stop", lines = [], before = new Set();
    /* A reason is said once; another line that stands on the same one points up to it. What would settle it stands for a reason that is not known. */
    const tail = (told, whole) => {
      const name = Object.keys(answers).find((one) => answers[one] === told), found = told.verdict === "unknown" && settles(name, now);
      if (told.verdict === "go") return "";
      const words = told.verdict === "unknown" ? (found ? day.readings[found[0]].ask : told.because.startsWith("Cannot be told") ? told.because : told.remedy || told.because) : `${told.because}${whole && told.verdict === "stop" ? ` ${told.remedy || ""}` : ""}`;
      if (before.has(told.because)) return told.verdict === "unknown" ? "" : " See above.";
      before.add(told.because);
      return ` ${words.replace(/^STOP\. /, "")}`;
    };
    const row = (...some) => make("span", "alm-day-row", ...some);
    // 1. Spray, wait or stop.
    const top = shutAll ? answers.allowed : answers.spray, bare = !shutAll && answers.mask.verdict === "stop", word = shutAll || bare ? "stop" : answers.spray.verdict; // no mask covers it: nobody is sent in
    const lead = shutAll ? "Stop." : word === "go" || word === "care" ? `${word === "go" ? "Spray" : "Spray with care"}${until(top)}.` : word === "unknown" ? "Not known yet." : /^STOP/.test(top.because) ? "Stop." : "Wait.";
    const air = ["air-temperature", "relative-humidity", "surface-temperature", ...(outdoors ? ["wind", "rain-at"] : [])];
    const label = { "air-temperature": "air", "relative-humidity": "damp", "surface-temperature": "surface", "rain-at": "rain" };
    lines.push(line(shutAll ? "allowed" : "spray", word, lead, make("span", "", bare && answers.spray.verdict !== "stop" ? " No mask is enough: see below." : word === "go" ? "" : word === "unknown" ? ` ${chosen ? day.readings[(settles("spray", now) || ["kit"])[0]].ask : "Choose the kit and the paint."}` : tail(top, true)),
      row(...air.map((name) => reading(name, label[name], name === wanted)), wanted && !air.includes(wanted) ? reading(wanted, null, true) : null)));
    // 2. Mask, and who stays out.
    // Where a paint's words tell indoors from outdoors, the half that holds here.
    const here = (words) => { const part = /^Indoors: (.*?)\. Outdoors: (.*?\.)(.*)$/.exec(words); return !part || !situation.words.place ? words : outdoors ? part[2] : `${part[1]}.${part[3]}`; };
    const mask = answers.mask, gone = outdoors ? "drift" : "clear-after", asked = wants(gone);
    lines.push(line("mask", mask.verdict, "Mask", make("span", "", mask.value ? `: ${here(mask.value)}` : ": the highest that you have, until the paint is known.", tail(mask)), " ",
      make("span", "alm-day-out", ...(shutAll ? ["Nobody sprays it, and nobody stands by."] : answers[gone].value === undefined ? ["Everybody else out, until it is known how the air clears."] : outdoors ? ["Nobody within ", strong(figure(gone)), " down the wind."] : ["Nobody else in until ", strong(figure(gone)), " after the last stroke."])),
      answers[gone].value === undefined && !shutAll && asked && asked !== wanted ? row(reading(asked, null, true)) : null));
    // 3. The pot.
    const pouring = kept.poured(), pot = answers.pot, doses = kept.get("dose"), litres = "pot-litres", none = pot.value === undefined || pot.verdict === "stop";
    const pour = shutAll ? ["Nothing is mixed."] : pouring !== null ? ["Poured: stir, and time it again. "] : none ? [tail(pot).trim() || "Not known."]
      : now.out.held.pour.likely > 0 ? ["Pour ", strong(figure("pot")), " of thinner", situation.numbers["cup-time"] === undefined && !doses ? " at most, and spray a test card." : ".", tail(pot) || " Stir, time it again."] : [strong("Add nothing"), ".", tail(pot)];
    // Two parts in one pot: the hour by which it is out of the gun, at its earliest.
    const two = now.out.held["coating.parts"].text === "two-pack", clean = answers["clean-by"];
    if (two && !shutAll) pour.push(...(clean.value !== undefined && clean.until !== undefined ? [" Out of the gun by ", strong(clock(clean.until, situation.day)), "."] : [" When it was mixed says by when it is out of the gun."]));
    const done = () => asks.ask("dose", root.querySelector('[data-line="pot"]'), () => shut(), { share: pouring });
    lines.push(line("pot", shutAll ? "stop" : pot.verdict, "Pot", make("span", "alm-day-row alm-day-beside", reading(litres, "in it", pot.verdict === "unknown" && wants("pot") === litres), doses ? reading("dose", "after thinner") : reading("cup-time", "cup"), reading("paint-temperature", "paint"), two && !shutAll ? reading("mixed-at", "mixed") : null,
      shutAll ? null : pouring !== null ? key("time it", done, "alm-day-link") : none ? null : now.out.held.pour.likely > 0 ? key("poured", () => kept.pour(Number(now.out.held["share-next"].likely.toPrecision(4))), "alm-day-link") : null), make("span", "alm-day-next", ...pour)));
    // 4. The gun.
    const gun = ["distance", "step", "stroke-seconds", "teeth"], rank = ["go", "care", "unknown", "stop"], worst = rank[Math.max(...gun.map((name) => rank.indexOf(answers[name].verdict)))];
    const part = (name) => (answers[name].value === undefined ? make("span", "alm-day-none", "? not known") : strong(figure(name)));
    const troubled = gun.find((name) => answers[name].verdict === worst);
    lines.push(line(troubled, worst, "Gun", ...(shutAll ? [" nothing is sprayed."] : [" ", part("distance"), " off, step ", part("step"), ".", make("span", "", tail(answers[troubled])),
      row(door(), make("span", "alm-day-mid", "in ", part("stroke-seconds"), ", tooth ", part("teeth")))])));
    // 5. The next coat.
    const coat = answers["next-coat"], latest = coat.until === undefined ? NaN : now.out.held["coat-latest-at"].low;
    lines.push(line("next-coat", coat.verdict, "Next coat", ...(shutAll ? [" none."] : coat.value === undefined ? [make("span", "", tail(coat) || " not known.")]
      : [" not before ", strong(clock(coat.value, situation.day)), ...(Number.isFinite(latest) ? [", not after ", strong(clock(latest, situation.day))] : []), ", only when the touch test passes.", make("span", "", tail(coat))]),
      row(reading("last-coat-at", "last coat", coat.verdict === "unknown" && wants("next-coat") === "last-coat-at"), reading("touch-test", "touch"), set("pieces", "pieces"))));
    const family = situation.words.coating && facts.names.coatings[situation.words.coating];
    return { lines, burns: !family || family[1] };
  };

  /* What is true of the store: "kept" only when the journal says that it is on the disk. */
  const stored = () => { const { is, why } = kept.status(); return Object.keys(situation.texts).length < 2 ? "" : is === "kept" ? " ✓ kept" : is === "writing" ? " … writing" : ` ✕ not surely kept: ${why}`; };
  const draw = () => {
    const { lines, burns } = sentences(), fresh = kept.fresh(), held = document.activeElement && root.contains(document.activeElement) ? document.activeElement.dataset.reading : null;
    const when = new Date(`${situation.day}T12:00:00`).toLocaleDateString(document.documentElement.lang || "en", { weekday: "long", day: "numeric", month: "short" });
    const kit = key(make("span", "alm-day-is", kept.chosen("kit") ? facts.names.kits[kept.chosen("kit")] || kept.chosen("kit") : "which kit?"), () => asks.ask("kit", kit), `alm-day-reading${situation.words.kit ? "" : " alm-day-wanted"}`);
    kit.dataset.reading = "kit";
    kit.append(make("span", "alm-day-when", "kit"));
    const head = make("p", "alm-day-head", set("place", situation.words.place || "where"), " ", kit, " ", set("pot", "paint"));
    root.replaceChildren(make("p", "alm-day-date", `${when}, ${clock(situation.numbers.now, situation.day)}`, make("span", "alm-day-stored", stored())), ...[
      !kept.safe() ? make("p", "alm-day-note", "△ This browser keeps nothing: what you type is gone when the page closes.") : null,
      fresh ? null : make("p", "alm-day-note alm-day-ask", "? A new day: the same kit and paint? ", key("Yes, the same", () => kept.confirm(), "alm-key"), " or press the one that changed, then yes."),
      burns ? make("p", "alm-day-note alm-day-fire", "△ ", make("strong", "", "Phone stays outside"), ": read here, take the ", link("card.html", "card"), ".") : null, head, make("ol", "alm-day-lines", ...lines)].filter(Boolean));
    const own = document.getElementById("alm-day-own");
    if (own) own.replaceChildren(...[["kits", kept.chosen("kit"), facts.names.kits[kept.chosen("kit")]], ["coatings", inside("coating"), (facts.names.coatings[inside("coating")] || [])[0]]].filter((one) => one[2])
      .map(([folder, slug, name]) => { const one = link(`${folder}/${slug}.html`, name); one.className = "md-button"; return one; }));
    root.dataset.ready = "yes";
    all();
    beside();
    if (held) { const again = root.querySelector(`[data-reading="${held}"]`); if (again) again.focus({ preventScroll: true }); }
  };
  const link = (address, words) => { const one = make("a", "", words); one.href = address; return one; };

  /* Every reading there is, by what it stays with: folded under the sentences. */
  const SORTS = { place: "This place", pot: "This pot", pieces: "These pieces", kit: "This kit", job: "This job, asked once", day: "Today" };
  const all = () => {
    const part = document.getElementById("alm-day-readings");
    if (!part || !part.closest("details").open) return;
    const shut = now.answers.allowed.verdict === "stop", told = day.answers.filter((one) => one.kind !== "time" && !["allowed", "spray"].includes(one.name)).map((one) => {
      const is = now.answers[one.name], item = make("li", "", `${one.title}: `, make("strong", "", shut && one.gate !== false ? "stop" : printed(one.name, is, kept.system()).replace("1/min", "a minute") || "not known"), is.verdict === "go" ? "" : ` ${MARK[is.verdict].join(" ")}`);
      item.dataset.answer = one.name;
      return item;
    });
    part.replaceChildren(make("h3", "", "Every answer"), make("ul", "alm-day-told", ...told), ...Object.entries(SORTS).flatMap(([sort, words]) => [make("h3", "", words, sort === "job" ? make("span", "", " ", key("A new job", () => asks.which("job", part), "alm-day-small")) : null),
      make("p", "alm-day-row", ...Object.keys(day.readings).filter((name) => day.readings[name].belongs === sort && name !== "now" && name !== "kit" && (sort !== "kit" || kept.chosen("kit"))).flatMap((name) => [reading(name), " "]))]));
  };

  /* Why: every reading, fact, step and reason that one line rests on. */
  /* Beside the pot's reasons: what this device's own pots of that paint said of the handbook's figure. */
  const ownPots = (name) => (name === "pot" && situation.words.coating ? load("last-pots.js").then(() => window.almanacLastPots.line(situation.words.coating)).catch(() => "") : "");
  const because = (name, from) => Promise.all([ownPots(name), load("why.js")]).then(([line]) => {
    const [first, ...rest] = window.almanacWhy(why(name, now, situation, kept.system()), now.answers[name]);
    show(`Why: ${day.answers.find((one) => one.name === name).title.toLowerCase()}`, from, [first, line ? make("p", "alm-note", line) : null, ...rest], null, true);
  });

  const answer = () => {
    const door = kept.get("stroke-length") ? {} : { "stroke-length": kept.system() === "us" ? US_DOOR : { text: `${DOOR} m`, value: DOOR, low: DOOR, high: DOOR } };
    const one = kept.situation(door);
    return ready(one).then(() => { situation = one; now = work(one, kept.system()); draw(); window.almanacNow = { situation, worked: now }; },
      () => { root.replaceChildren(make("p", "alm-day-note", "△ A file of this handbook is missing here: open it once with signal, or take the card.")); });
  };
  document.getElementById("alm-day-all").addEventListener("toggle", () => { if (now) all(); });
  const bench = document.getElementById("alm-day-bench");
  const beside = () => { if (bench && bench.open && now) load("bench.js").then(() => window.almanacBench(document.getElementById("alm-day-at-bench"), now, situation)); };
  if (bench) bench.addEventListener("toggle", beside);
  kept.on(answer);
  answer();
  setInterval(() => { if (!window.almanacPanel.opened() && !document.hidden) answer(); }, 60000);
  document.addEventListener("visibilitychange", () => { if (!document.hidden && !window.almanacPanel.opened()) answer(); });
  const box = document.getElementById("alm-day-search");
  if (box) { box.hidden = false; box.addEventListener("click", () => window.almanacSearch()); }
  const units = document.getElementById("alm-day-units");
  if (units) { units.hidden = false; units.addEventListener("click", () => { kept.system(kept.system() === "us" ? "metric" : "us"); answer(); }); }
})();
