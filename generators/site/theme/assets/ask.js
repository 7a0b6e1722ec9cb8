/* Asks for one reading where it stands: figures by the key pad, words and names by big keys, times by the clock. What was typed is kept as it was typed. */
(() => {
  "use strict";
  const { make, key, show, shut, pad } = window.almanacPanel, kept = window.almanacKept, { load, clock } = window.almanacDayAnswers, { title, shown, called, choices } = window.almanacReadings;
  const readings = () => window.almanacDay.readings;
  const bare = (unit) => (unit === "1" ? "" : unit.replace("Δ", ""));
  const unitsOf = (reading) => { const us = window.almanacDay.us[reading.unit], both = us ? [reading.unit, us[0]] : [reading.unit]; return (kept.system() === "us" ? both.reverse() : both).map(bare); };

  /* A number out of what stands in the line: {text, value, low, high}, or what is wrong with it. */
  const number = (name, text, unit) => {
    const reading = readings()[name], whole = /[a-z°%]/i.test(text) || !unit ? text : `${text} ${unit}`;
    const is = window.almanacTyped.read(whole, reading.unit);
    if (is.ask) return { ask: is.ask };
    if (is.problem) return { problem: is.problem };
    if (is.value === null) return { problem: "Type a figure first." };
    if (!(is.low >= reading.low && is.high <= reading.high)) return { problem: `Wanted ${reading.low} to ${reading.high} ${bare(reading.unit)}. Look at the figure and its unit.` };
    return { text: whole, value: is.value, low: is.low, high: is.high };
  };
  /* One comma before three digits can mean two things: it is asked once, and this device remembers. */
  const which = (ask, finish) => [make("span", "", "Which is it? "), ...ask.map((one) => key(one.said, () => { window.almanacTyped.comma(one.choice); finish(); }))];

  /* Keys above every reading that is there already: read again and the same, or taken away. */
  const above = (name, next) => {
    const was = kept.get(name);
    if (was === undefined) return null;
    return make("p", "alm-panel-was", Array.isArray(was) ? null : key("Read again, the same", () => { kept.same(name); next(); }), key("Remove", () => { kept.drop(name); next(); }));
  };
  /* "17 °C, 12:46": what stands there and when it was read. */
  const stands = (name) => {
    const was = kept.get(name), one = Array.isArray(was) ? was[was.length - 1] : was, today = kept.clock.now().slice(0, 10);
    return one === undefined ? "" : `: ${shown(name)}${one.at ? `, ${clock(kept.minutes(one.at, today), today)}` : ""}`;
  };
  const put = (name, reading) => kept.put(name, { ...reading, at: kept.clock.now() });
  /* A watch beside the line that takes seconds of a cup. */
  const watched = (row, parts) => row.append(window.almanacWatch(row.querySelector("input"), parts[parts.length - 1]));
  const bodies = {
    number: (name, next) => {
      const units = unitsOf(readings()[name]);
      const made = pad([{ label: title(name), unit: units[0], units, text: "" }], ([text], [unit]) => {
        const is = number(name, text, unit);
        if (is.ask) return which(is.ask, made.finish);
        if (is.problem) return is.problem;
        put(name, is);
        next();
        return null;
      });
      if (name === "cup-time") watched(made.parts[0], made.parts);
      return made.parts;
    },
    words: (name, next) => [make("div", "alm-panel-choices", ...choices(name).map(([slug, words]) => {
      const now = kept.get(name), button = key(words, () => { put(name, { text: slug }); next(); });
      button.value = slug;
      button.setAttribute("aria-pressed", String(Boolean(now) && now.text === slug));
      return button;
    }))],
    time: (name, next) => {
      const input = make("input", "alm-panel-input"), told = make("p", "alm-panel-told");
      input.type = "datetime-local"; input.value = kept.clock.now(); input.setAttribute("aria-label", title(name)); input.dataset.first = "";
      const keep = (text) => { if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d/.test(text)) { told.textContent = "△ Say the day and the time."; return; } put(name, { text: text.slice(0, 16) }); next(); };
      return [make("div", "alm-panel-line", input), told, make("div", "alm-panel-choices", key("Keep this time", () => keep(input.value), "alm-key alm-key-keep"), key("Now", () => keep(kept.clock.now())),
        name === "rain-at" ? key("No rain today", () => { put(name, { text: "none" }); next(); }) : null)];
    },
    /* A dose: the thinner that is in the pot by now, in all, and the cup time after it. */
    dose: (name, next, given) => {
      const made = pad([{ label: "Thinner, in all", unit: "%", units: ["%"], text: given && given.share !== undefined ? String(given.share) : "" }, { label: "Cup time", unit: "s", units: ["s"], text: given && given.seconds ? String(given.seconds) : "" }],
        ([share, seconds], _, __) => {
          const a = number("thinner-wanted", share, "%"), b = number("cup-time", seconds, "s");
          for (const one of [a, b]) { if (one.ask) return which(one.ask, made.finish); if (one.problem) return one.problem; }
          const paint = kept.get("paint-temperature"), warmth = paint ? Number(paint.value.toFixed(2)) : null;
          put(name, { share: a.value, seconds: b.value, temperature: warmth, text: `${a.value}%:${b.value}s${warmth === null ? "" : `@${warmth}C`}` });
          next();
          return null;
        });
      watched(made.parts[1], made.parts);
      return made.parts;
    },
  };
  bodies.fact = (name, next) => {
    const [list] = bodies.words(name, next), page = { kit: "own/kit.html", coating: "own/paint.html" }[name];
    if (page) { const own = make("a", "alm-key alm-key-own", name === "kit" ? "+ A kit of your own" : "+ A paint of your own"); own.href = window.almanacDayAnswers.base(`../${page}`); list.append(own); }
    return [list];
  };

  const grammar = () => (window.almanacTyped && window.almanacWatch ? Promise.resolve() : Promise.all([load("grammar.js").then(() => load("typed.js")), load("cup-watch.js")]));
  /* Asks for `name`; `after` is called once it is kept, taken away or read again. */
  const ask = (name, from, after, given) => grammar().then(() => (["kit", "coating"].includes(name) ? window.almanacDayAnswers.things().catch(() => {}) : null)).then(() => {
    const reading = readings()[name], next = () => { if (after) after(name); else shut(); };
    show(title(name) + stands(name), from, [make("p", "alm-panel-ask", reading.ask), above(name, next), ...bodies[reading.kind](name, next, given)]);
  });

  /* Places, pots and pieces: choose one, begin another, give it a name. Each keeps its own readings. */
  const CALL = { place: ["Where", "Another place", "A name for this place"], pot: ["Which pot", "A new pot", "A name for this pot"], pieces: ["Which pieces", "Other pieces", "A name for these pieces"], job: ["Which job", "A new job", "A name for this job"] };
  const which_set = (sort, from, after) => {
    const [head, another, name] = CALL[sort], input = make("input", "alm-panel-input");
    input.type = "text"; input.maxLength = 60; input.setAttribute("aria-label", name); input.placeholder = name;
    const next = () => { if (after) after(); else shut(); };
    show(head, from, [make("div", "alm-panel-choices", ...kept.sets(sort).map(([one, set]) => {
      const button = key(called(sort, one, set), () => { kept.pick(sort, one); shut(); });
      button.setAttribute("aria-pressed", String(kept.chosen(sort) === one));
      return button;
    }), key(`+ ${another}`, () => { kept.add(sort, ""); if (sort === "pot") ask("coating", from); else if (sort === "place") ask("place", from); else next(); }, "alm-key alm-key-keep"),
      sort === "pot" ? key("Another paint in this pot", () => ask("coating", from)) : null), make("div", "alm-panel-line", input, key("Name it", () => { kept.call(sort, input.value.trim()); next(); }))]);
  };
  window.almanacAsk = { ask, which: which_set };
})();
