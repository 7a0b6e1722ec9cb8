/* The job sheet: walks the declared chain with the declared formulas' own JavaScript. Which steps there are, and what feeds them, comes from
   assets/job-facts.js; no sum of a formula is written here. */
(() => {
  "use strict";
  const facts = window.almanacJobFacts;

  /* Tins that hold at least so many litres at least cost, worked from the bottom up; of a great need most is filled with the tin that is cheapest by the litre. */
  const gcd = (a, b) => (b ? gcd(b, a % b) : a);
  const cheapest = (litres, tins) => {
    let kinds = tins.map((tin, place) => ({ place, size: Math.floor(tin[0] * 100 + 1e-6), price: tin[1] })).filter((kind) => kind.size >= 1);
    if (!kinds.length || !Number.isFinite(litres)) return [[], NaN];
    const unit = kinds.reduce((found, kind) => gcd(found, kind.size), 0);
    kinds = kinds.map((kind) => ({ ...kind, size: kind.size / unit }));
    let need = Math.max(0, Math.ceil((litres * 100) / unit - 1e-6));
    const bulk = kinds.reduce((best, kind) => (kind.price / kind.size < best.price / best.size || (kind.price / kind.size === best.price / best.size && kind.size > best.size) ? kind : best));
    const whole = Math.max(0, Math.floor((need - bulk.size * (1 + Math.max(...kinds.map((kind) => kind.size)))) / bulk.size));
    need -= whole * bulk.size;
    const cost = new Float64Array(need + 1), number = new Uint32Array(need + 1), used = new Int8Array(need + 1).fill(-1);
    for (let amount = 1; amount <= need; amount += 1) {
      cost[amount] = Infinity;
      kinds.forEach((kind, index) => {
        const from = Math.max(0, amount - kind.size), price = Math.round((cost[from] + kind.price) * 1e6) / 1e6, tins = number[from] + 1;
        if (price < cost[amount] || (price === cost[amount] && tins < number[amount])) { cost[amount] = price; number[amount] = tins; used[amount] = index; }
      });
    }
    const counts = tins.map(() => 0);
    for (let left = need; left > 0; left = Math.max(0, left - kinds[used[left]].size)) counts[kinds[used[left]].place] += 1;
    counts[bulk.place] += whole;
    return [counts, cost[need] + whole * bulk.price];
  };

  const walk = (chain, job, formulas) => {
    const out = { job: {}, paints: [], surfaces: [], tins: [], reasons: [] };
    const run = (links, fields, below, where) => {
      const known = {};
      const look = (source) => {
        if (typeof source !== "string") return source;
        for (const place of [known, fields, job.fields]) if (Object.hasOwn(place, source)) return place[source];
        return NaN;
      };
      for (const link of links) {
        if (link.is === "fold") {
          const values = below.map((part) => part[link.of]);
          known[link.name] = link.how === "most" ? values.reduce((most, value) => (Number.isNaN(value) || value > most ? value : most), 0) : values.reduce((sum, value) => sum + value, 0);
        } else if (link.is === "cheapest") {
          const [counts, price] = cheapest(known[link.litres], fields.tins);
          known[link.name] = price;
          out.tins.push(counts);
        } else {
          const formula = formulas[typeof link.formula === "string" ? link.formula : link.formula[look(link.by)]];
          const given = {};
          for (const input of formula.inputs) given[input.name] = look(link.inputs[input.name]);
          const missing = Object.values(given).some((value) => Number.isNaN(value));
          const [value, reason] = missing ? [NaN, null] : formula.work(given);
          known[link.name] = value;
          if (reason) out.reasons.push(`${where}: ${reason}`);
        }
      }
      return known;
    };
    job.surfaces.forEach((surface, place) => out.surfaces.push(run(chain.surface, { ...job.paints[surface.paint], ...surface }, [], `Surface ${place + 1}`)));
    job.paints.forEach((paint, place) => out.paints.push(run(chain.paint, paint, out.surfaces.filter((_, index) => job.surfaces[index].paint === place), `Paint ${place + 1}`)));
    out.job = run(chain.job, {}, out.paints, "The job");
    return out;
  };
  window.almanacJob = { walk, cheapest };

  const make = window.almanacMake;
  const brief = (value) => (Number.isFinite(value) ? (Math.abs(value) >= 100 ? Math.round(value).toString() : Number(value.toPrecision(3)).toString()).replace("-", "−") : "–");
  const money = (value, coin) => (Number.isFinite(value) ? `${coin}${value.toFixed(value >= 20 ? 0 : 2)}` : "–");
  const hours = (value) => (Number.isFinite(value) ? value.toFixed(value < 0.1 && value > 0 ? 2 : 1) : "–");
  const up = (value) => (Number.isFinite(value) ? (Math.ceil(value * 10 - 1e-9) / 10).toString() : "–"); // litres are rounded up: short is worse than over

  const gather = (form) => {
    const row = (name) => form.rows(form.block(name))[0];
    const fields = { ...form.figures(row("kit")), ...form.figures(row("money")) };
    const paints = form.rows(form.block("paints")).map((one) => {
      const figures = form.figures(one), words = form.words(one);
      const tins = ["a", "b", "c"].map((letter) => [figures[`tin-${letter}`], figures[`tin-${letter}-price`]]).filter(([size, price]) => size > 0 && price >= 0);
      return { ...figures, dries: words.dries === "other" ? "other" : "water", tins, words };
    });
    // A surface names its paint, not its place: where that paint was taken out there is no answer until another is chosen.
    const named = form.rows(form.block("paints")).map((one) => one.dataset.row);
    const surfaces = form.rows(form.block("surfaces")).map((one) => {
      const figures = form.figures(one), words = form.words(one);
      return { ...figures, paint: named.indexOf(words.paint), words };
    });
    const lost = surfaces.map((surface, place) => (surface.paint < 0 ? `Surface ${place + 1}: choose its paint.` : "")).filter(Boolean);
    if (!surfaces.length) lost.push("No surface: add one.");
    return { fields, paints, surfaces, lost };
  };
  const litres = (value, form) => (form.system === "us" ? `${up(value / Number(document.querySelector('.alm-entry[data-name="loss"]').dataset.scale))} qt` : `${up(value)} L`);
  const tinWords = (counts, tins, form) => counts.map((count, place) => (count ? `${count} × ${litres(tins[place][0], form)}` : "")).filter(Boolean).join(" + ") || "–";

  const show = (form) => {
    const out = (name) => form.root.querySelector(`[data-out="${name}"]`);
    const job = gather(form);
    if (job.lost.length) {
      const list = make("ul");
      list.append(...job.lost.map((words) => make("li", `– ${words}`)));
      out("options").replaceChildren(make("h2", "What it takes"), list);
      out("shopping").replaceChildren();
      out("safety").replaceChildren();
      form.root.querySelector(".alm-sum-up").textContent = `– ${job.lost[0]}`;
      return;
    }
    const found = facts.ways.map(([way, words, chain]) => [way, words, walk(chain, job, window.almanacFormulas)]);
    const spray = found[0][2];

    const table = make("table");
    table.append(make("caption", "The same dry film, three ways"));
    const head = make("tr");
    head.append(make("th", ""), ...found.map(([, words]) => make("th", words, { scope: "col" })));
    table.append(make("thead"));
    table.tHead.append(head);
    const body = table.appendChild(make("tbody"));
    const line = (label, cell, strong) => { const row = body.appendChild(make("tr")); row.append(make("th", label, { scope: "row" }), ...found.map(([, , one]) => make("td", cell(one)))); if (strong) row.className = "alm-sure"; };
    line("Price", (one) => money(one.job.price, form.coin), true);
    line("Work, h", (one) => hours(one.job.hours), true);
    line("Paint", (one) => litres(one.job.order, form), true);
    job.paints.forEach((paint, place) => line(`Tins${job.paints.length > 1 ? `, paint ${place + 1}` : ""}`, (one) => tinWords(one.tins[place] || [], paint.tins, form)));
    line("Tins cost", (one) => money(one.job["tins-cost"], form.coin));
    line("Thinner", (one) => litres(one.job["thinner-volume"], form));
    line("Pots to fill", (one) => (Number.isFinite(one.job.pots) ? String(Math.ceil(one.job.pots - 1e-9)) : "–"));
    const given = job.fields;
    const fixed = (label, mine, other) => { const row = body.appendChild(make("tr")); row.append(make("th", label, { scope: "row" }), ...found.map(([way]) => make("td", hours(given[way === "spray" ? mine : other])))); };
    fixed("Survey, h", "survey", "survey");
    fixed("Setting up, h", "set-up", "hand-set-up");
    line("Masking, h", (one) => hours(one.job.masking));
    line("Putting it on, h", (one) => hours(one.job.application));
    line("Filling pots, h", (one) => hours(one.job.refills));
    fixed("Clean-down, h", "clean-down", "hand-clean-down");
    line("Waiting, h", (one) => hours(one.job.waiting));
    const scale = Number(form.root.querySelector('.alm-entry[data-name="face"]').dataset.scale);
    line(form.system === "us" ? "Each ft²" : "Each m²", (one) => money(form.system === "us" ? one.job.each * scale : one.job.each, form.coin));
    line("Vapour, kg", (one) => hours(one.job.solvent));
    const reasons = [...new Set(found.flatMap(([, , one]) => one.reasons))];
    const wants = job.paints.map((paint, place) => (paint.tins.length ? "" : `Paint ${place + 1}: no tin has a size and a price.`)).filter(Boolean);
    const notes = make("ul");
    for (const reason of [...reasons, ...wants]) notes.append(make("li", `– ${reason}`));
    out("options").replaceChildren(make("h2", "What it takes"), table, notes,
      make("p", "Waits are not in the hours. The film is the same in all three; the look is not. Survey, set-up and clean-down are in the hours."));

    form.root.querySelector(".alm-sum-up").textContent = Number.isFinite(spray.job.price) ? `Sprayed: ${litres(spray.job.order, form)}, ${hours(spray.job.hours)} h, ${money(spray.job.price, form.coin)}` : `– ${[...reasons, ...wants][0] || "a figure is missing"}`;

    const lists = make("ul");
    job.paints.forEach((paint, place) => {
      const tin = facts.coatings[paint.words.coating];
      const name = [tin ? tin.name : "", paint.words.named].filter(Boolean).join(", ") || `paint ${place + 1}`;
      lists.append(make("li", `☐ ${name}: ${tinWords(spray.tins[place] || [], paint.tins, form)}, one batch, or mixed together`));
      if (paint.thinner > 0 && spray.paints[place]) lists.append(make("li", `☐ Thinner for it: ${litres(spray.paints[place]["thinner-volume"], form)}${tin ? ` of ${tin["thin-with"]}` : ""}, and what washing takes`));
      if (tin && paint.thinner > tin["thinner-max"]) lists.append(make("li", `✕ ${brief(paint.thinner)} % is more thinner than its data sheet allows: ${brief(tin["thinner-max"])} % at the most.`));
      if (tin) lists.append(make("li", `☐ Nozzle ${brief(tin.nozzle)} mm, cup and watch, comb, thermometer, strainers`));
      if (tin && job.fields["air-temperature"] < tin["air-min"]) lists.append(make("li", `✕ ${name} wants ${brief(tin["air-min"])} °C at the least.`));
    });
    lists.append(make("li", "☐ Turbine, hose, gun, a spare needle and nozzle; tape, sheet, fan; lids, labels, rags in a metal tin"));
    out("shopping").replaceChildren(make("h2", "To buy and to bring"), lists);

    const guards = make("ul");
    const seen = new Set();
    for (const paint of job.paints) {
      const tin = facts.coatings[paint.words.coating];
      if (!tin || seen.has(tin.name)) continue;
      seen.add(tin.name);
      const item = guards.appendChild(make("li"));
      item.append(make("strong", `${tin.name}. `), ...Object.entries(tin.guard).flatMap(([what, words]) => [make("strong", `${what}: `), `${words.replace(/\.?$/, ".")} `]));
    }
    if (!seen.size) guards.append(make("li", "No paint of the handbook is chosen: the safety data sheet, section 8, says what to wear."));
    const kit = facts.kits[form.words(form.rows(form.block("kit"))[0]).kit];
    if (kit) guards.append(make("li", `Ears: this kit makes ${brief(kit.noise)} dBA.`));
    out("safety").replaceChildren(make("h2", "Air, masks and stops"), guards, make("p", "✕ Stop: isocyanates, old lead paint, asbestos. The safety data sheet, the law where you work, and a competent or licensed person decide."));
  };

  for (const form of window.almanacForms.filter((one) => one.kind === "job")) {
    // A choice from the handbook fills the row; what is typed after it stays.
    form.watchers.push((target) => {
      const entry = target.closest(".alm-entry"), row = target.closest(".alm-row");
      if (!entry || target.tagName !== "SELECT") return;
      const chosen = entry.dataset.name === "thing" ? facts.surfaces[target.value] : entry.dataset.name === "coating" ? facts.coatings[target.value] : entry.dataset.name === "kit" ? facts.kits[target.value] : null;
      if (!chosen) return;
      for (const name of ["face", "sides", "profile", "drink", "spray-lands", "brush-rate", "roll-rate", "volume-solids", "dry-film", "voc", "recoat", "dries", "flow", "pot"]) if (Object.hasOwn(chosen, name)) form.set(row, name, chosen[name]);
    });
    form.root.addEventListener("almanac-form", () => show(form));
  }
})();
