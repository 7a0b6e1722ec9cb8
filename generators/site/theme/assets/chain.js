// Walks a chain that the handbook declares: quantities with two ends, in the order written down. No sum, limit or outcome is in here.
(function (root) {
  "use strict";
  const RANK = { go: 0, care: 1, unknown: 2, stop: 3 }, WORDS = ["go", "care", "unknown", "stop"], HAIR = 1e-9;

  const number = (likely, low, high, stale) => ({ low: low === undefined ? likely : low, likely, high: high === undefined ? likely : high, text: null, words: false, missing: [], stale: stale || [], why: "" });
  const text = (said, missing, stale) => ({ low: NaN, likely: NaN, high: NaN, text: said === undefined ? null : said, words: true, missing: missing || [], stale: stale || [], why: "" });
  /* One thing that a walk is brought: a word (no unit), a number, or [low, likely, high]; what is not known is called missing. */
  const brought = (value, name, unit) => {
    const is = value !== undefined && value !== null && value !== "" && !Number.isNaN(value);
    if (unit === "") return is ? text(value) : text(null, [name]);
    if (!is) return gone([name]);
    return Array.isArray(value) ? number(value[1], value[0], value[2]) : number(value);
  };
  const gone = (missing, why, words) => ({ low: NaN, likely: NaN, high: NaN, text: null, words: !!words, missing: missing || [], stale: [], why: why || "" });
  const known = (held) => (held.words ? held.text !== null : Number.isFinite(held.likely));
  const absent = (held) => !held.words && !held.missing.length && Number.isNaN(held.likely) && !held.why;
  const union = (lists) => [...new Set([].concat(...lists))].sort();
  const said = (held, words) => held.text !== null && words.split(" ").includes(held.text);

  const scaled = (held, scale, offset) => (scale === 1 && offset === 0 ? held
    : { ...held, low: held.low * scale + offset, likely: held.likely * scale + offset, high: held.high * scale + offset });

  // The likely answer, and the least and most over every corner of the ends.
  // With `squares` the errors are independent, and it is asked where they are worst together: each end moved alone says in which direction that lies.
  const bounded = (formula, given, option, squares) => {
    const names = Object.keys(given), wide = names.filter((name) => given[name].low !== given[name].high);
    const likely = {};
    for (const name of names) likely[name] = given[name].likely;
    const answers = [formula.work(likely, option)];
    if (squares) for (const name of wide) for (const end of [given[name].low, given[name].high]) answers.push(formula.work({ ...likely, [name]: end }, option));
    for (let way = 0; !squares && wide.length && way < 1 << wide.length; way++) {
      const corner = { ...likely };
      wide.forEach((name, place) => { corner[name] = (way >> (wide.length - 1 - place)) & 1 ? given[name].high : given[name].low; });
      answers.push(formula.work(corner, option));
    }
    const values = answers.map((answer) => answer[0]), bad = values.some(Number.isNaN);
    const refused = answers.filter((answer) => answer[1]);
    let low = Math.min(...values), high = Math.max(...values);
    const worst = (better) => {
      const alone = wide.map((name, place) => better(values[1 + 2 * place], values[2 + 2 * place], values[0]));
      const moves = alone.map((value) => Math.abs(value - values[0])), whole = Math.sqrt(moves.reduce((sum, move) => sum + move ** 2, 0));
      const point = { ...likely };
      wide.forEach((name, place) => {
        const end = values[1 + 2 * place] === alone[place] ? given[name].low : given[name].high;
        point[name] += (whole > 0 ? moves[place] / whole : 0) * (end - point[name]);
      });
      return better(formula.work(point, option)[0], ...values);
    };
    if (squares && wide.length) { low = worst(Math.min); high = worst(Math.max); }
    return { low: bad ? NaN : low, likely: values[0], high: bad ? NaN : high, text: null, words: false,
      missing: union(names.map((name) => given[name].missing)), stale: union(names.map((name) => given[name].stale)), why: refused.length ? refused[0][1] : "" };
  };

  class Walk {
    constructor(chain, formulas, held, parts, studies, searches) {
      this.chain = chain; this.formulas = formulas; this.studies = studies; this.searches = searches;
      this.held = { ...held }; this.given = new Set(Object.keys(held));
      this.parts = {};
      for (const name of Object.keys(parts)) this.parts[name] = parts[name].map((part) => ({ ...part }));
    }

    look(name, inside) { return inside && name in inside ? inside[name] : this.held[name]; }

    source([name, scale, offset], inside) { return typeof name === "number" ? number(name) : scaled(this.look(name, inside), scale, offset); }

    step(link, inside) {
      let chosen = link.formula[""];
      if (link.by) {
        const held = this.look(link.by, inside);
        if (held.text === null || !(held.text in link.formula)) return gone(held.missing);
        chosen = link.formula[held.text];
      }
      const formula = this.formulas[chosen], given = {}, missing = [], option = link.option[chosen];
      let why = "", blank = false;
      for (const [symbol, source] of Object.entries(link.inputs[chosen])) {
        const held = this.source(source, inside);
        if (Number.isNaN(held.likely)) { missing.push(...held.missing); why = why || held.why; blank = true; }
        given[symbol] = held;
      }
      let cup = null;
      if (option) {
        const held = this.look(option, inside);
        cup = held.text;
        if (cup === null || !(cup in formula.options)) { missing.push(...held.missing); why = why || (cup === null ? held.why : "the cup is not known"); blank = true; }
      }
      if (missing.length || blank) return { ...gone(union([missing]), why), stale: union(Object.values(given).map((held) => held.stale)) };
      return bounded(formula, given, cup, link.squares);
    }

    pick(link, inside) {
      const some = link.of.map((source) => this.source(source, inside));
      if (link.how === "first") {
        const found = some.find(known);
        return found || { ...gone(union(some.map((held) => held.missing)), some[some.length - 1].why), words: some[some.length - 1].words };
      }
      const there = some.filter((held) => !absent(held));
      if (!there.length) return gone([]);
      if (["low", "likely", "high"].includes(link.how)) return { ...there[0], low: there[0][link.how], likely: there[0][link.how], high: there[0][link.how] };
      if (link.how === "hull") return { ...there[0], low: Math.min(...there.map((held) => held.low)), high: Math.max(...there.map((held) => held.high)), missing: union(there.map((held) => held.missing)), stale: union(there.map((held) => held.stale)) };
      const choose = link.how === "least" ? Math.min : Math.max, end = (name) => choose(...there.map((held) => held[name]));
      const why = there.find((held) => held.why);
      return { low: end("low"), likely: end("likely"), high: end("high"), text: null, words: false, missing: union(there.map((held) => held.missing)), stale: union(there.map((held) => held.stale)), why: why ? why.why : "" };
    }

    lookup(link, inside) {
      const study = this.studies[link.study], word = link.word ? this.look(link.word, inside) : text("");
      const at = link.at ? this.source(link.at, inside) : null;
      const unknown = [word, ...(at ? [at] : [])].filter((held) => !known(held));
      if (unknown.length) return gone(union(unknown.map((held) => held.missing)), unknown[0].why);
      const stale = union([word.stale, at ? at.stale : []]);
      if (!(word.text in study.rows)) return gone([], "no study of " + word.text);
      const row = study.rows[word.text];
      if (!at) return number(row, row, row, stale);
      const axis = study.axis, worse = link.side === "least" ? Math.min : Math.max;
      const one = (where) => {
        if (!(where >= axis[0] - 1e-9 && where <= axis[axis.length - 1] + 1e-9)) return NaN;
        let place = axis.findIndex((value) => value >= where - 1e-9);
        if (place < 0) place = axis.length - 1;
        const under = Math.max(0, Math.abs(axis[place] - where) <= 1e-9 ? place : place - 1);
        return worse(row[under], row[place]);
      };
      const ends = [one(at.low), one(at.likely), one(at.high)];
      return { low: Math.min(...ends), likely: ends[1], high: Math.max(...ends), text: null, words: false, missing: [], stale, why: Number.isNaN(ends[1]) ? "outside what was studied" : "" };
    }

    choose(link, inside) {
      let stale = [];
      for (const [pairs, word] of link.cases) {
        const helds = pairs.map(([name, words]) => [this.look(name, inside), words]);
        stale = union([stale, ...helds.map(([held]) => held.stale)]);
        if (helds.every(([held, words]) => said(held, words))) return text(word, [], stale);
        if (!helds.some(([held, words]) => held.text !== null && !said(held, words))) return gone(union(helds.filter(([held]) => held.text === null).map(([held]) => held.missing)), "", true);
      }
      return text(link.otherwise, [], stale);
    }

    case(link, inside) {
      const held = this.look(link.by, inside);
      return held.text === null || !(held.text in link.of) ? gone(held.missing) : this.source(link.of[held.text], inside);
    }

    // What no formula gives, asked at the low, the likely and the high end of what it is given.
    search(link, inside) {
      const given = Object.entries(link.inputs).map(([key, name]) => [key, this.look(name, inside)]);
      const lists = Object.entries(link.lists).map(([part, names]) => [part, (this.parts[part] || []).map((one) => names.map((name) => [name, one[name]]))]);
      const every = [...given.map(([, held]) => held), ...lists.flatMap(([, some]) => some.flatMap((one) => one.map(([, held]) => held)))];
      const wide = every.some((held) => !held.words && known(held) && (held.low !== held.likely || held.high !== held.likely));
      const found = (wide ? ["low", "likely", "high"] : ["likely"]).map((end) => {
        const plain = (pairs) => Object.fromEntries(pairs.map(([name, held]) => [name, held.words ? held.text : held[end]]));
        return this.searches[link.search]({ ...plain(given), ...Object.fromEntries(lists.map(([part, some]) => [part, some.map(plain)])) });
      });
      const missing = union(every.map((held) => held.missing)), place = inside || this.held, told = every.find((held) => held.why);
      const made = (values) => {
        const likely = values[values.length >> 1];
        return values.some(Number.isNaN) ? { ...gone(missing, told ? told.why : missing.length ? "" : link.why || ""), likely } : number(likely, Math.min(...values), Math.max(...values));
      };
      for (const name of link.gives) place[name] = made(found.map((one) => one[name]));
      for (const part of Object.keys(link.into)) (this.parts[part] || []).forEach((one, index) => { for (const name of link.into[part]) one[name] = made(found.map((answer) => answer[part][index][name])); });
      return number(1);
    }

    fold(link, inside) {
      const mine = link.by && inside ? this.look("key", inside).text : null;
      const some = (this.parts[link.part] || []).filter((part) => mine === null || part[link.by].text === mine);
      if (link.how === "count") return number(some.length);
      if (!some.length) return link.how === "sum" ? number(0) : gone([link.part]);
      const helds = some.map((part) => part[link.of]);
      if (link.how === "first") return helds[0];
      if (link.how === "last") return helds[helds.length - 1];
      const how = { sum: (a, b) => a + b, least: Math.min, most: Math.max }[link.how];
      const end = (name) => helds.map((held) => held[name]).reduce((a, b) => how(a, b));
      const why = helds.find((held) => held.why);
      return { low: end("low"), likely: end("likely"), high: end("high"), text: null, words: false, missing: union(helds.map((held) => held.missing)), stale: union(helds.map((held) => held.stale)), why: why ? why.why : "" };
    }

    run(links, inside) {
      for (const link of links) {
        if (link.is === "each") {
          for (const part of this.parts[link.part] || []) {
            const scope = { ...part };
            for (const key of Object.keys(part)) scope[link.part + "." + key] = part[key];
            for (const other of Object.keys(link.refers || {})) {
              const found = this.parts[other].find((one) => one.key.text === part[link.refers[other]].text);
              for (const key of Object.keys(found)) scope[other + "." + key] = found[key];
            }
            this.run(link.links, scope);
            for (const key of Object.keys(scope)) if (!key.includes(".")) part[key] = scope[key];
          }
          continue;
        }
        if (!inside && this.given.has(link.name)) continue;
        (inside || this.held)[link.name] = this[link.is](link, inside);
      }
    }

    test(test) {
      for (const [name, words] of test.when) {
        const held = this.look(name);
        if (held.text !== null && !words.split(" ").includes(held.text)) return null;
      }
      const value = this.look(test.value);
      if (!["<", ">"].includes(test.sign)) {
        if (test.spare && !known(value) && !value.missing.length) return null;
        if (!known(value)) return { test, code: RANK.unknown, missing: value.missing, stale: value.stale, why: value.why };
        const fires = test.sign !== "known" && said(value, test.limit) === (test.sign === "is");
        return { test, code: fires ? RANK[test.outcome] : value.stale.length ? RANK.unknown : RANK.go, missing: fires ? [] : value.stale, stale: value.stale, why: "" };
      }
      const limit = this.source(test.limit);
      if (test.spare && [value, limit].some((held) => !known(held) && !held.missing.length && !held.why)) return null;
      const hair = HAIR * Math.max(1, Math.abs(limit.likely), Math.abs(value.likely));
      const likely = test.sign === "<" ? value.likely < limit.likely - hair : value.likely > limit.likely + hair;
      const worst = test.sign === "<" ? value.low < limit.high - hair : value.high > limit.low + hair;
      const untold = [value.likely, limit.likely, value.low, value.high, limit.low, limit.high].some(Number.isNaN);
      const stale = union([value.stale, limit.stale]);
      let code = likely ? RANK[test.outcome] : untold ? RANK.unknown : worst ? RANK[test.doubt] : RANK.go;
      if (stale.length) code = Math.max(code, RANK.unknown);
      return { test, code, missing: union([value.missing, limit.missing, stale]), stale, why: value.why || limit.why };
    }

    ask(name) {
      const verdict = this.chain.verdicts[name];
      const tests = verdict.tests.map((test) => this.test(test)).filter((one) => one !== null);
      const code = tests.reduce((most, one) => Math.max(most, one.code), RANK.go);
      const speaking = tests.filter((one) => one.code > RANK.go).map((one, place) => [one, place]).sort((a, b) => b[0].code - a[0].code || a[1] - b[1]).map(([one]) => one);
      return { verdict, outcome: WORDS[code], speaking };
    }
  }

  // Walks a chain: what it holds by name, and each verdict as it was answered.
  const walk = (chain, formulas, held, parts, studies, searches) => {
    const one = new Walk(chain, formulas, held, parts || {}, studies || {}, searches || {});
    one.run(chain.links);
    const verdicts = {};
    for (const name of Object.keys(chain.verdicts)) verdicts[name] = one.ask(name);
    return { held: one.held, parts: one.parts, verdicts };
  };

  root.almanacWalk = { walk, number, text, gone, brought, known, union, RANK, WORDS };
})(typeof window === "undefined" ? globalThis : window);
