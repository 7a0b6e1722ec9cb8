// Brings a situation together with the facts of its kit and paint, walks the day's chain, and says the answers in words.
(function (root) {
  "use strict";
  const { walk, number, text, gone, union, RANK } = root.almanacWalk;
  const KIT_WORDS = ["cup", "pattern", "name"];
  const PAINT_WORDS = ["name", "hardener", "stop", "family", "voc_rule", "voc_room", "window", "parts", "pair", "cup", "mask", "gloves"];
  const FACTOR = { usual: 1, checked: 0.5, exact: 0 };

  const fact = ([value]) => (value === null ? gone([]) : typeof value === "string" ? text(value) : typeof value === "number" ? number(value) : number(value[1], value[0], value[2]));

  // situation: {numbers, words, doses, at, texts}; facts: {limits, regions, kits, coatings, shapes, grounds, sheets, region, comb}.
  const hold = (day, facts, situation) => {
    const { numbers, words, at } = situation, held = {};
    const take = (some) => { for (const [name, value] of Object.entries(some || {})) held[name] = fact(value); };
    const region = words.region || facts.region;
    take(facts.limits); take(facts.regions[region]);
    take(facts.shapes[words.shape || ""]);
    take(facts.grounds[words.ground === undefined || words.ground === "wood" ? (words.place === "outdoors" ? "outdoors" : "indoors") : ""]);
    if (words.kit) take(facts.kits[words.kit]);
    else {
      for (const name of Object.keys(day.units)) if (name.startsWith("kit.")) held[name] = gone(["kit"]);
      for (const name of KIT_WORDS) held["kit." + name] = gone(["kit"], "", true);
    }
    if (words.coating) take(facts.coatings[words.coating]);
    else {
      for (const name of Object.keys(day.units)) if (/^(coating|class)\./.test(name)) held[name] = gone(["coating"]);
      for (const name of PAINT_WORDS) held["coating." + name] = gone(["coating"], "", true);
      for (const name of ["thin_cup", "thin_end"]) held["class." + name] = gone(["coating"], "", true);
    }
    const factor = FACTOR[words.instruments || "usual"], limit = (name) => held["limits." + name].likely;
    const good = limit(words.place === "room" ? "reading_hours_room" : "reading_hours_outdoors"), now = numbers.now;
    for (const [name, reading] of Object.entries(day.readings)) {
      const when = at[name], old = when !== undefined && reading.grows_old && (now === undefined || now - when > 60 * good + 1e-9 || when > now + 1e-9);
      const stale = old ? [name] : [];
      if (reading.kind === "words" || reading.kind === "fact") held[name] = words[name] !== undefined ? text(words[name], [], stale) : gone([name], "", true);
      else if (reading.kind === "number" || reading.kind === "time") {
        const likely = numbers[name];
        if (likely === undefined) { held[name] = gone([name]); continue; }
        const error = reading.error ? limit(reading.error.slice(7)) * factor : 0;
        const ends = (situation.spans || {})[name] || [likely, likely];
        let low = ends[0] - error, high = ends[1] + error;
        if (reading.kind === "number") { low = Math.max(low, Math.min(reading.low, likely)); high = Math.min(high, Math.max(reading.high, likely)); }
        held[name] = number(likely, low, high, stale);
      }
    }
    const rain = words.rain || (numbers["rain-at"] !== undefined ? "due" : null);
    held.rain = text(rain, rain === null ? ["rain-at"] : []);
    held.region = text(region);
    if (held["coating.parts"].text === "one-pack" && held.hardener.text === null) held.hardener = text("none");
    const taken = situation.doses.length + (numbers["cup-time"] !== undefined ? 1 : 0), once = taken === 1 && !situation.doses.length;
    held["pot-timed"] = text(!taken ? "sheet" : once ? "once" : "twice");
    held["pot.share_now"] = situation.doses.length ? gone([]) : number(0);
    held.comb = text(facts.comb);
    const pot = timings(situation, held, words.coating ? facts.sheets[words.coating] || [] : [], limit, factor, facts.dips);
    const learned = pot.length === 1 && pot[0].share.likely === 0 && Number.isFinite(held["coating.steepness"].likely);
    held["pot-laws"] = text(pot.length > 1 ? "two" : learned ? "learned" : "one");
    return { held, parts: { timings: pot, places: day.places.map(([at, edge]) => ({ at: number(at), edge: number(edge) })) } };
  };

  const timings = (situation, held, sheet, limit, factor, dips) => {
    const { numbers, words } = situation, dip = limit("dip_cup_repeatability") / 100 * factor, unread = limit("sheet_temperature"), watch = limit("timing_error") * factor, warmth = limit("paint_error") * factor;
    const usual = words.cup || held["kit.cup"].text, paint = numbers["paint-temperature"];
    const part = (share, seconds, cup, typed, watched, drift, weighed) => {
      const degrees = typed === undefined || typed === null ? unread : typed, error = (dips || []).includes(cup) && watched ? Math.max(watched, dip * seconds) : watched;
      return { share: weighed ? gone([]) : number(share), "weight-share": weighed ? number(share) : gone([]),
        time: number(seconds, Math.max(seconds - error, 1), seconds + error), cup: text(cup, cup ? [] : ["cup"]), temperature: number(degrees, degrees - drift, degrees + drift) };
    };
    const found = [];
    if (numbers["cup-time"] !== undefined) found.push(part(0, numbers["cup-time"], usual, paint, watch, warmth));
    for (const dose of situation.doses) found.push(part(dose.share, dose.seconds, dose.cup || usual, dose.temperature === null || dose.temperature === undefined ? paint : dose.temperature, watch, warmth, dose.weighed));
    return found.length ? found : sheet.map(([share, seconds, cup]) => part(share, seconds, cup, unread, 0, 0));
  };

  const figure = (day, value, unit, system) => {
    const [shown, scale, offset] = (system === "us" && day.us[unit]) || [unit, 1, 0];
    const words = String(Number((value * scale + offset).toPrecision(3))).replace("-", "−"), plain = shown.replace("Δ", "");
    return plain === "1" ? words : words + " " + plain;
  };
  const filled = (day, out, template, system) => template.replace(/\{([a-z0-9._-]+)\}/g, (whole, name) => {
    const held = out.held[name];
    if (!held) return whole;
    if (held.words) return held.text === null ? "not known" : held.text;
    return Number.isNaN(held.likely) ? "not known" : figure(day, held.likely, day.units[name] || "1", system);
  });
  const named = (day, missing) => Object.keys(day.readings).filter((name) => missing.includes(name));
  const missingWords = (day, missing) => {
    const names = named(day, missing);
    return ["Not known: " + (names.map((name) => name.replaceAll("-", " ")).join(", ") || "a fact that no file gives") + ".", names.length ? day.readings[names[0]].ask : "Ask the data sheet."];
  };
  const testWords = (day, out, one, system) => {
    if (one.code === RANK.unknown) {
      if (one.stale.length && one.missing.every((name) => one.stale.includes(name))) return ["Read too long ago: " + named(day, one.stale).map((name) => name.replaceAll("-", " ")).join(", ") + ".", "Read it again."];
      if (one.missing.length) return missingWords(day, one.missing);
      return ["Cannot be told: " + (one.why || "no figure for it") + ".", "Read it again. If it stays so, go by the data sheet and a test card."];
    }
    const words = filled(day, out, one.test.because, system);
    return [one.code === RANK[one.test.outcome] ? words : words + " By what the instruments may hide.", one.test.remedy];
  };

  const until = (day, facts, situation, answer, out) => {
    const found = answer.until.map((name) => out.held[name].low).filter(Number.isFinite), now = situation.numbers.now;
    const hours = out.held["limits.reading_hours_" + (situation.words.place === "room" ? "room" : "outdoors")].likely;
    let fresh = false;
    for (const name of answer.rests) {
      const reading = day.readings[name];
      if (!reading || !reading.grows_old) continue;
      fresh = true;
      if (!(name in situation.texts)) continue;
      const when = situation.at[name] !== undefined ? situation.at[name] : now;
      if (when !== undefined && Number.isFinite(hours)) found.push(when + hours * 60);
    }
    if (situation.words.place === "outdoors" && situation.numbers["dusk-at"] !== undefined && fresh) found.push(situation.numbers["dusk-at"]);
    return found.length ? Math.min(...found) : null;
  };

  // Every answer: {verdict, answers: {name: {value, low, likely, high, unit, verdict, because, remedy, also, until}}}. Times are minutes after midnight of the situation's day.
  const answers = (day, formulas, facts, situation, system) => {
    const { held, parts } = hold(day, facts, situation);
    const out = walk(day, formulas, held, parts, day.studies), told = {};
    for (const answer of day.answers) {
      const shut = answer.gate && out.verdicts.allowed.outcome === "stop";
      const speakers = shut ? [out.verdicts.allowed] : answer.verdicts.map((name) => out.verdicts[name]);
      let word = speakers.map((one) => one.outcome).reduce((a, b) => (RANK[b] > RANK[a] ? b : a), "go");
      const words = [];
      for (const said of word === "go" ? [] : [].concat(...speakers.map((one) => one.speaking.map((test) => testWords(day, out, test, system))))) if (!words.some((one) => one[0] === said[0] && one[1] === said[1])) words.push(said);
      const one = {}, shows = out.held[answer.shows];
      const dashed = speakers.some((one) => one.speaking.some((test) => test.code === RANK.stop && answer.dash.includes(test.test.name)));
      if (!shut) {
        if (dashed) { /* no figure is to be had */ } else if (answer.kind === "word") { if (shows.text !== null) one.value = shows.text; } else if (Number.isFinite(answer.kind === "time" ? shows.high : shows.likely)) {
          one.value = answer.kind === "time" ? shows.high : shows.likely;
          for (const end of ["low", "likely", "high"]) if (Number.isFinite(shows[end])) one[end] = shows[end];
          if (answer.kind !== "time") one.unit = day.units[answer.shows];
        }
        if (answer.name === "spray") one.value = { go: "spray", care: "spray with care", unknown: "not known", stop: "wait" }[word];
        else if (answer.name === "allowed") one.value = { go: "yes", care: "yes", unknown: "not known", stop: "no" }[word];
        else if (!("value" in one) && (shows.missing.length || shows.why) && RANK[word] < RANK.unknown) {
          word = "unknown";
          words.unshift(shows.missing.length ? missingWords(day, shows.missing) : ["No answer: " + shows.why + ".", "Look at the readings."]);
        }
      }
      one.verdict = word;
      if (words.length) { [one.because, one.remedy] = words[0]; if (words.length > 1) one.also = words.slice(1).map(([because]) => because); } else one.because = speakers[0].verdict.go;
      const end = shut ? null : until(day, facts, situation, answer, out);
      if (end !== null) one.until = end;
      told[answer.name] = one;
    }
    const both = [told.allowed.verdict, told.spray.verdict, ...(told.mask.verdict === "stop" ? ["stop"] : [])].reduce((a, b) => (RANK[b] > RANK[a] ? b : a));
    return { verdict: both, answers: told, out };
  };

  root.almanacToday = { answers, hold, figure, union, words: testWords };
})(typeof window === "undefined" ? globalThis : window);
