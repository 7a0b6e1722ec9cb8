/* The job sheet: what was typed as a plain job, walked in all three ways, and told: what does not fit first, then price, hours, days, lists. No sum is written here. */
(() => {
  "use strict";
  const facts = window.almanacJobFacts, walker = window.almanacJobWalk, make = window.almanacMake;
  const MARKS = { care: "△", unknown: "?", stop: "✕" };

  const brief = (value) => (Number.isFinite(value) ? (Math.abs(value) >= 100 ? Math.round(value).toString() : Number(value.toPrecision(3)).toString()).replace("-", "−") : "–");
  const money = (value, coin) => (Number.isFinite(value) ? `${coin}${value.toFixed(value >= 20 ? 0 : 2)}` : "–");
  const hours = (value) => (Number.isFinite(value) ? value.toFixed(value < 0.1 && value > 0 ? 2 : 1) : "–");
  const up = (value) => (Number.isFinite(value) ? (Math.ceil(value * 10 - 1e-9) / 10).toString() : "–"); // litres are rounded up: short is worse than over
  const likely = (held) => (held ? held.likely : NaN);
  const span = (low, high, show) => (Number.isFinite(low) && Number.isFinite(high) && show(low) !== show(high) ? `${show(low)}–${show(high)}` : show(high));

  /* A reading as the chain takes it; one that still stands as the crew's own rate has that rate's ends. */
  const taken = (reading, name) => {
    if (!reading) return undefined;
    if (reading.value === null) return NaN;
    const own = facts.rates[name];
    if (own && reading.single && Math.abs(reading.value - own[1]) <= 1e-3 * Math.max(1e-9, Math.abs(own[1]))) return own;
    return reading.single ? reading.value : [reading.low, reading.value, reading.high];
  };
  const figures = (form, row) => Object.fromEntries(Object.entries(form.readings(row)).map(([name, reading]) => [name, taken(reading, name)]));
  const minutes = (text) => (/^\d\d:\d\d$/.test(text) ? Number(text.slice(0, 2)) * 60 + Number(text.slice(3)) : 1080);
  const weekday = (text) => (/^\d{4}-\d\d-\d\d$/.test(text) ? (new Date(`${text}T12:00:00Z`).getUTCDay() + 6) % 7 : 0);

  const stages = (form, work) => {
    const own = new Map(form.rows(form.block("stages")).map((row) => [form.words(row).stage, { by: form.words(row).by, hours: taken(form.readings(row)["stage-hours"], "") }]));
    return (facts.stages[work] || Object.values(facts.stages)[0] || []).flatMap((one) => {
      const said = own.get(one.key);
      if (!said) return [one];
      if (said.by === "none" || said.by === "customer") return [];
      return said.hours === undefined ? [one] : [{ ...one, per: "once", "pace-each": said.hours, "share-spray": 100, "share-hand": 100 }];
    });
  };

  /* How long a mix lasts: by what was typed, else by its sheet. A pot life makes a two-pack of it; a two-pack from the handbook stays one without. */
  const lasts = (typed, coating) => {
    const sheet = { ...facts["one-pack"], ...facts.coatings[coating] };
    const told = Object.fromEntries(["parts", "pot-life", "pot-life-at", "pot-life-of", "induction"].map((name) => [name, sheet[name]]));
    return typed === undefined ? told : { ...told, parts: "two-pack", "pot-life": typed };
  };

  /* What was typed, as a plain job; `lost` says what is missing before anything can be worked. */
  const gather = (form) => {
    const row = (name) => form.rows(form.block(name))[0], held = form.held();
    const words = (name) => (held[name] || { text: "" }).text;
    const fields = { ...figures(form, row("kit")), ...figures(form, row("crew")), ...figures(form, row("money")), place: words("place") === "outdoors" ? "outdoors" : "indoors", dusk: minutes(words("dusk-at")), start: 480,
      weekday: weekday(words("first-day")), "sheet-stretch": facts.stretch, ...facts["pot-laws"] };
    const rows = form.rows(form.block("paints"));
    const typed = rows.map((one) => { const read = figures(form, one), said = form.words(one); return { ...read, ...lasts(read["pot-life"], said.coating), dries: said.dries === "other" ? "other" : "water", key: one.dataset.row, words: said }; });
    const same = walker.merged(typed.map(({ words: said, ...one }) => ({ ...one, said: [said.coating, said.named] })));
    const named = typed.map((one) => one.key), lost = [], lays = [];
    const surfaces = form.rows(form.block("surfaces")).map((one, place) => {
      const said = form.words(one), on = [said.primer, said.paint].filter(Boolean).map((key) => named.indexOf(key));
      if (!said.paint || on.includes(-1)) lost.push(`Surface ${place + 1}: choose its paint.`);
      on.filter((at) => at >= 0).forEach((at, turn) => lays.push({ key: `${one.dataset.row}-${turn}`, surface: one.dataset.row, paint: same[at], coats: typed[at].coats, first: turn ? "no" : "yes" }));
      return { ...figures(form, one), key: one.dataset.row, condition: said.condition || "worn", loose: said.loose === "yes" ? "yes" : "no", words: said };
    });
    if (!surfaces.length) lost.push("No surface: add one.");
    const used = new Set(lays.map((lay) => lay.paint));
    return { fields, surfaces, lays, paints: typed.filter((paint) => used.has(paint.key)), stages: stages(form, words("work")), lost };
  };

  const litres = (value, form) => (form.system === "us" ? `${up(value / Number(form.root.querySelector('.alm-entry[data-name="loss"]').dataset.scale))} qt` : `${up(value)} L`);
  const tinWords = (paint, form) => ["a", "b", "c"].map((letter) => (likely(paint[`tins-${letter}`]) > 0 ? `${likely(paint[`tins-${letter}`])} × ${litres(likely(paint[`tin-${letter}`]), form)}` : "")).filter(Boolean).join(" + ") || "–";
  const paintName = (paint, place) => { const tin = facts.coatings[paint.words.coating]; return [tin ? tin.name : "", paint.words.named].filter(Boolean).join(", ") || `paint ${place + 1}`; };
  const table = (caption, heads, lines) => {
    const out = make("table");
    out.append(make("caption", caption));
    const head = make("tr");
    head.append(...heads.map((words) => make("th", words, { scope: "col" })));
    out.append(make("thead"));
    out.tHead.append(head);
    const body = out.appendChild(make("tbody"));
    for (const [label, cells, strong] of lines) { const row = body.appendChild(make("tr")); row.append(make("th", label, { scope: "row" }), ...cells.map((words) => make("td", words))); if (strong) row.className = "alm-sure"; }
    return out;
  };

  /* A part of what comes out, folded under its name and what it comes to; once opened it stays open while one types. */
  const foldOf = (place, title, says, ...parts) => {
    const was = place.querySelector("details"), fold = make("details", undefined, { className: "alm-how alm-folded", open: Boolean(was && was.open) }), summary = make("summary");
    summary.append(title);
    if (says) summary.append(make("span", says, { className: "alm-says" }));
    fold.append(summary, ...parts);
    return fold;
  };
  const foldIn = (place, title, says, ...parts) => place.replaceChildren(foldOf(place, make("h2", title), says, ...parts));
  const options = (form, job, found) => {
    const scale = Number(form.root.querySelector('.alm-entry[data-name="face"]').dataset.scale), us = form.system === "us";
    const h = (name) => (one) => likely(one.held[name]);
    const lines = [], line = (label, cell, strong) => lines.push([label, found.map(([, , one]) => cell(one)), strong]);
    const coin = (value) => money(value, form.coin), of = (name, show) => (one) => show(h(name)(one));
    line("Price", of("price", coin), true);
    line("Chance to lose money at that", (one) => (Number.isFinite(h("chance")(one)) ? `${Math.ceil(h("chance")(one))} %` : "–"), true);
    line("Price: one job in ten under, one over", (one) => span(h("price-low")(one), h("price-high")(one), coin));
    line("What it costs you", of("cost", coin));
    line("Hours paid", of("hours", hours), true);
    line("Hours: one job in ten under, one over", (one) => span(h("hours-low")(one), h("hours-high")(one), hours));
    line("Hours by the clock, at it", of("on-site", hours));
    line("Visits", (one) => span(one.held.visits.low, one.held.visits.high, brief), true);
    line("Days from first to last", (one) => span(one.held.days.low, one.held.days.high, brief));
    line("Waiting for paint, h", of("waiting", hours));
    line("Paint to buy", (one) => litres(h("order")(one), form), true);
    job.paints.forEach((paint, place) => line(`Tins: ${paintName(paint, place)}`, (one) => tinWords(one.parts.paints[place], form)));
    line("Tins cost", of("tins-cost", coin));
    line("Thinner", (one) => litres(h("thinner-volume")(one), form));
    line("Pots to fill", (one) => (Number.isFinite(h("pots")(one)) ? String(Math.ceil(h("pots")(one) - 1e-9)) : "–"));
    line("Clean-downs", (one) => brief(h("cleans")(one)));
    line("Visits, washings, wear", of("running", coin));
    line(us ? "Each ft²" : "Each m²", (one) => coin(us ? h("each")(one) * scale : h("each")(one)));
    line(us ? "Vapour, lb" : "Vapour, kg", of("solvent", (kilograms) => hours(us ? kilograms * window.almanacGrammar.to_unit.kg.lb[0] : kilograms)));
    const heads = ["", ...found.map(([, words]) => words)];
    return [table("The same dry film, three ways", heads, lines.filter((one) => one[2])), table("The same, in detail", heads, lines.filter((one) => !one[2]))];
  };

  /* Hours that the logs of the same job hold, by stage: what it truly took. A line without a figure counts for nothing. */
  const took = async (form) => {
    const title = form.held().title.text.trim().toLowerCase(), found = new Map(), keeper = window.almanacKeeper;
    if (!title) return found;
    await keeper.load("log");
    for (const pages of window.almanacRecords.live("log")) {
      if (pages.text("", "title").trim().toLowerCase() !== title) continue;
      for (const { row, gone } of pages.rows("took")) {
        const said = pages.read(row, "stage-hours"), reading = said && window.almanacTyped.read(said.text, said.unit || "h"), people = Number(pages.text(row, "people")) || 1, stage = pages.text(row, "stage");
        if (!gone && stage && reading && reading.value !== null && reading.single) found.set(stage, [...(found.get(stage) || []), [reading.value, people]]);
      }
    }
    return found;
  };
  const WHO = { shared: "all", one: "one", together: "all", alone: "one alone" };
  const hoursTable = (out, logged) => table("Sprayed: hours paid, stage by stage, at best, likely, at worst", ["Stage", "Who", "Best", "Likely", "Worst", ...(logged.size ? ["Took"] : [])],
    out.parts.stages.filter((one) => likely(one["paid-high"]) > 0 || Number.isNaN(likely(one.paid)) || logged.has(one.key.text)).map((one) => [facts["stage-words"][one.key.text].label, [WHO[one.who.text], hours(likely(one["paid-low"])), hours(likely(one["paid-likely"])), hours(likely(one["paid-high"])),
      ...(logged.size ? [logged.has(one.key.text) ? hours(logged.get(one.key.text).reduce((sum, [clock, people]) => sum + window.almanacFormulas["paid-time"].work({ elapsed: clock, crew: people })[0], 0)) : ""] : [])]]));

  const dayName = (form) => {
    const first = form.held()["first-day"].text;
    return (day) => (/^\d{4}-\d\d-\d\d$/.test(first) ? new Date(Date.parse(`${first}T12:00:00Z`) + day * 86400000).toLocaleDateString(document.documentElement.lang || "en", { weekday: "short", day: "numeric", month: "short", timeZone: "UTC" }) : `Day ${day + 1}`);
  };
  const drawDays = (form, job, out) => {
    const plan = walker.calendar(out, facts.job);
    if (!plan.bars.length) return [make("p", "– No calendar: a figure is missing.")];
    const called = (what, waits) => {
      const paint = job.paints.findIndex((one) => what === `dry ${one.key}`);
      if (paint >= 0) return `${paintName(job.paints[paint], paint)} dries in this air`;
      const label = what === "rack" ? "the rack is full" : (facts["stage-words"][what] || { label: what }).label;
      return waits && what !== "rack" && what !== "cure" ? `${label}: drying` : label;
    };
    return [window.almanacJobDays.draw(plan, likely(out.held.left), called, dayName(form)), make("p", "Dark: a coat. Light: other work. Dashed: a wait. Hours of work after setting up; travel, setting up and clean-down are the rest of the day."), window.almanacJobDays.list(plan, called, dayName(form))];
  };

  /* Kit, paint and weather by the day's own chain: what stops it, or wants care, is said before the price. */
  let turn = 0;
  const fits = (form, job, out) => {
    const mine = ++turn, ask = window.almanacDayAnswers, held = form.held(), plain = (value) => (Array.isArray(value) ? value[1] : value);
    const told = job.paints.filter((paint) => facts.coatings[paint.words.coating]).map((paint, place) => {
      const numbers = Object.fromEntries([["air-temperature", job.fields["air-temperature"]], ["relative-humidity", job.fields["relative-humidity"]], ["night-low", job.fields["night-low"]]].filter(([, value]) => Number.isFinite(plain(value))).map(([name, value]) => [name, plain(value)]));
      const situation = { numbers, words: { coating: paint.words.coating, ...(held.kit.text ? { kit: held.kit.text } : {}), place: job.fields.place === "outdoors" ? "outdoors" : "room" }, doses: [], at: {}, texts: {}, spans: {} };
      return ask.ready(situation).then(() => {
        const { out: day } = ask.work(situation, form.system), seen = new Set();
        return ["allowed", "spray", "air-surface", "pot"].filter((name) => day.verdicts[name]).flatMap((name) => day.verdicts[name].speaking.filter((one) => one.code === 1 || one.code === 3).map((one) => `${MARKS[one.code === 3 ? "stop" : "care"]} ${paintName(paint, place)}: ${window.almanacToday.words(window.almanacDay, day, one, form.system)[0]}`)).filter((line) => !seen.has(line) && seen.add(line));
      });
    });
    const own = [];
    for (const [name, words] of [["age", "the age of the building"], ["lead-is", "lead"], ["asbestos-is", "asbestos"], ["old-finish", "the old finish"]]) if (!held[name].text || held[name].text === "unknown") own.push(words);
    Promise.all(told).then((some) => some.flat(), () => ["– The day's chain did not load; open the page again."]).then((lines) => {
      if (mine !== turn) return;
      const list = make("ul");
      for (const line of lines) list.append(make("li", line));
      if (own.length) list.append(make("li", `? Not known: ${own.join(", ")}. Whatever is signed says “subject to” it.`));
      for (const one of walker.reasons(out)) list.append(make("li", `– ${one}`));
      form.root.querySelector('[data-out="fits"]').replaceChildren(make("h2", "Does it fit"), list.children.length ? list : make("p", "✓ Nothing that was written stands against it."));
    });
  };

  const lists = (form, job, out) => {
    const parts = make("ul"), add = (words) => parts.append(make("li", words));
    job.paints.forEach((paint, place) => {
      const tin = facts.coatings[paint.words.coating], name = paintName(paint, place), thinner = Array.isArray(paint.thinner) ? paint.thinner[1] : paint.thinner;
      add(`☐ ${name}: ${tinWords(out.parts.paints[place], form)}, one batch, or mixed together`);
      if (thinner > 0) add(`☐ Thinner for it: ${litres(likely(out.parts.paints[place]["thinner-volume"]), form)}${tin ? ` of ${tin["thin-with"]}` : ""}, and what washing takes`);
      if (tin && thinner > tin["thinner-max"]) add(`✕ ${brief(thinner)} % is more thinner than its data sheet allows: ${brief(tin["thinner-max"])} % at the most.`);
      if (tin) add(`☐ Nozzle ${tin.nozzle}, cup and watch, comb, thermometer, strainers`);
    });
    add("☐ Turbine, hose, gun, a spare needle and nozzle; tape, sheet, fan; lids, labels, rags in a metal tin");
    return parts;
  };
  const guards = (form, job) => {
    const parts = make("ul"), seen = new Set();
    for (const paint of job.paints) {
      const tin = facts.coatings[paint.words.coating];
      if (!tin || seen.has(tin.name)) continue;
      seen.add(tin.name);
      const item = parts.appendChild(make("li"));
      item.append(make("strong", `${tin.name}. `), ...Object.entries(tin.guard).flatMap(([what, words]) => [make("strong", `${what}: `), `${words.replace(/\.?$/, ".")} `]));
    }
    if (!seen.size) parts.append(make("li", "No paint of the handbook is chosen: the safety data sheet, section 8, says what to wear."));
    const kit = facts.kits[form.held().kit.text];
    if (kit) parts.append(make("li", `Ears: this kit makes ${brief(kit.noise)} dBA.`));
    return parts;
  };

  const show = (form) => {
    const out = (name) => form.root.querySelector(`[data-out="${name}"]`), sum = form.root.querySelector(".alm-sum-up");
    if (form.untouched) { sum.textContent = "– Nothing is chosen yet."; return; } // what the empty lines would cost is no answer; its boxes are hidden
    const job = gather(form);
    if (job.lost.length) {
      const list = make("ul");
      list.append(...job.lost.map((words) => make("li", `– ${words}`)));
      out("fits").replaceChildren(make("h2", "What it takes"), list);
      for (const name of ["options", "hours", "days", "shopping", "safety"]) out(name).replaceChildren();
      sum.textContent = `– ${job.lost[0]}`;
      return;
    }
    const found = facts.ways.map(([way, words]) => [way, words, walker.work(job, way, facts.job, window.almanacFormulas)]), spray = found[0][2];
    form.worked = { job, found };
    fits(form, job, spray);
    const [most, rest] = options(form, job, found);
    out("options").replaceChildren(make("h2", "What it takes"), most, foldOf(out("options"), "Ends, tins, waits and running costs", "", rest), make("p", "The film is the same in all three; the look is not. Every stage below is in the hours, also what waits for the gun."));
    const stagesOf = (logged) => foldIn(out("hours"), "Stage by stage", `${hours(likely(spray.held.hours))} hours paid`, hoursTable(spray, logged), make("p", "One: the rest are there, and paid. One alone: the rest are not."));
    stagesOf(new Map());
    took(form).then((logged) => { if (logged.size && form.worked && form.worked.found[0][2] === spray) stagesOf(logged); });
    foldIn(out("days"), "The days", `${brief(likely(spray.held.visits))} visits, ${brief(likely(spray.held.days))} days from first to last`, ...drawDays(form, job, spray));
    const why = walker.reasons(spray), wants = job.paints.map((paint, place) => (Number.isFinite(likely(spray.parts.paints[place]["tins-cost"])) || why.length ? "" : `Paint ${place + 1}: no tin has a size and a price.`)).filter(Boolean), price = likely(spray.held.price);
    sum.textContent = Number.isFinite(price) ? `Sprayed: ${litres(likely(spray.held.order), form)}, ${hours(likely(spray.held.hours))} h, ${brief(likely(spray.held.visits))} visits, ${money(price, form.coin)}` : `– ${[...why, ...(spray.held.price.missing.length ? [`a figure is missing: ${spray.held.price.missing.join(", ")}`] : []), ...wants][0] || "a figure is missing"}`;
    out("shopping").replaceChildren(make("h2", "To buy and to bring"), lists(form, job, spray));
    out("safety").replaceChildren(make("h2", "Air, masks and stops"), guards(form, job), make("p", "✕ Stop: isocyanates, old lead paint, asbestos. The safety data sheet, the law where you work, and a competent or licensed person decide."));
  };

  /* A template fills the sheet: its paints, its surfaces, each a line of its own. */
  const begin = (form, slug) => {
    const one = facts.templates[slug];
    if (!one) return;
    const lines = (name, count) => { const block = form.block(name); while (form.rows(block).length < count) form.add(block); while (form.rows(block).length > count) form.takeOut(block, form.rows(block)[count]); return form.rows(block); };
    const paints = Object.entries(one.paints), rows = lines("paints", paints.length), keys = {};
    paints.forEach(([name, [coating, coats]], place) => {
      keys[name] = rows[place].dataset.row;
      form.set(rows[place], "coating", coating);
      fill(form, rows[place], facts.coatings[coating]);
      form.set(rows[place], "coats", coats);
    });
    form.flush();
    form.draw();
    const found = lines("surfaces", one.surfaces.length);
    one.surfaces.forEach(([thing, where, count, condition, on], place) => {
      form.set(found[place], "thing", thing);
      fill(form, found[place], facts.surfaces[thing]);
      for (const [name, value] of [["where", where], ["count", count], ["condition", condition], ["paint", keys[on[on.length - 1]]], ["primer", on.length > 1 ? keys[on[0]] : ""]]) form.set(found[place], name, value);
    });
    const set = (block, name, value) => form.set(form.rows(form.block(block))[0], name, value);
    set("name", "work", one.work);
    set("kit", "edges", one.edges);
    set("kit", "sheets", one.sheets);
    set("kit", "place", one.place);
    form.flush();
    form.draw();
  };
  const fill = (form, row, chosen) => { for (const name of ["face", "sides", "profile", "detail", "loose", "drink", "spray-lands", "brush-rate", "roll-rate", "volume-solids", "dry-film", "voc", "recoat", "pot-life", "dries", "flow", "pot"]) if (chosen && Object.hasOwn(chosen, name)) form.set(row, name, chosen[name]); };

  window.almanacJob = { gather, paintName, tinWords, litres, money, hours, brief };
  for (const form of window.almanacForms.filter((one) => one.kind === "job")) {
    // A choice from the handbook fills the row; what is typed after it stays.
    form.watchers.push((target) => {
      const entry = target.closest(".alm-entry"), row = target.closest(".alm-row");
      if (!entry || target.tagName !== "SELECT") return;
      const { name } = entry.dataset;
      if (name === "template") begin(form, target.value);
      else if (["thing", "coating", "kit"].includes(name)) fill(form, row, name === "thing" ? facts.surfaces[target.value] : name === "coating" ? facts.coatings[target.value] : facts.kits[target.value]);
    });
    form.root.addEventListener("almanac-form", () => show(form));
  }
})();
