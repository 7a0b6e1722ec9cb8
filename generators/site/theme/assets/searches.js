/* What no formula gives: the tins that hold so much at least cost, and the days of a job. Twins of studies/tins.py and studies/visits.py; pure, Node loads it. */
(function (root) {
  "use strict";
  const HAIR = 1e-9, MOST = 2000, UNITS = 2000000, LETTERS = ["a", "b", "c"];

  /* Worked from the bottom up; of a great need most is filled with the tin that is cheapest by the litre. */
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
    if (need > UNITS) return [[], NaN];
    const cost = new Float64Array(need + 1), number = new Uint32Array(need + 1), used = new Int8Array(need + 1).fill(-1);
    for (let amount = 1; amount <= need; amount += 1) {
      cost[amount] = Infinity;
      kinds.forEach((kind, index) => {
        const from = Math.max(0, amount - kind.size), price = Math.round((cost[from] + kind.price) * 1e6) / 1e6, count = number[from] + 1;
        if (price < cost[amount] || (price === cost[amount] && count < number[amount])) { cost[amount] = price; number[amount] = count; used[amount] = index; }
      });
    }
    const counts = tins.map(() => 0);
    for (let left = need; left > 0; left = Math.max(0, left - kinds[used[left]].size)) counts[kinds[used[left]].place] += 1;
    counts[bulk.place] += whole;
    return [counts, cost[need] + whole * bulk.price];
  };
  const tins = (given) => {
    const there = LETTERS.map((letter) => [letter, given[`tin-${letter}`], given[`tin-${letter}-price`]]).filter(([, size, price]) => size > 0 && price >= 0);
    const [counts, cost] = cheapest(given.litres, there.map(([, size, price]) => [size, price]));
    const out = { "tins-cost": cost };
    for (const letter of LETTERS) { const place = there.findIndex(([one]) => one === letter); out[`tins-${letter}`] = counts.length ? (place < 0 ? 0 : counts[place]) : NaN; }
    return out;
  };

  class Clock {
    constructor(left, stay, week, weekday) {
      this.left = left;
      this.stay = stay;
      this.week = week;
      this.weekday = weekday;
      this.day = 0;
      this.at = 0;
      this.visits = 1;
      this.onSite = 0;
      this.waiting = 0;
      /** @type {[number, string]} */
      this.pending = [0, ""];
      this.bars = [];
    }
    morning(ready) {
      this.day = Math.max(this.day + 1, Math.ceil((ready - HAIR) / 24));
      while ((this.weekday + this.day) % 7 >= this.week) this.day += 1;
      this.at = 0;
      this.visits += 1;
    }
    wait() {
      const [hours, what] = this.pending;
      this.pending = [0, ""];
      if (hours <= HAIR) return;
      this.waiting += hours;
      const { day, at: start } = this;
      if (hours <= this.stay + HAIR && this.at + hours <= this.left + HAIR) this.at += hours; else this.morning(day * 24 + start + hours);
      this.bars.push({ what, kind: "wait", day, start, end: start + hours, until: this.day });
    }
    work(what, kind, hours, limit) {
      while (hours > HAIR && this.visits < MOST) {
        const room = limit - this.at;
        if (room <= HAIR) { this.morning(0); continue; }
        const some = Math.min(hours, room);
        this.bars.push({ what, kind, day: this.day, start: this.at, end: this.at + some, until: this.day });
        this.at += some;
        this.onSite += some;
        hours -= some;
      }
    }
  }

  const NOTHING = { bars: [], visits: NaN, days: NaN, waiting: NaN, onSite: NaN, cleans: {} };
  const FIGURES = ["left", "coat-left", "stay", "week", "weekday", "flash", "rack", "pieces", "holds", "clean"];
  const plan = (given) => {
    const { stages, lays } = given;
    const figures = [...FIGURES.map((name) => given[name]), ...stages.flatMap((one) => [one.planned, one["wait-now"]]), ...lays.flatMap((one) => [one.coats, one.gun, one.dry]), ...given.paints.flatMap((one) => [one.spell, one.stands])];
    if (figures.some(Number.isNaN) || given.week < 1 || lays.reduce((sum, lay) => sum + lay.coats, 0) > MOST) return NOTHING; // nobody works, or there is no end of coats
    const clock = new Clock(given.left, given.stay, given.week, given.weekday), coatLeft = Math.min(given.left, given["coat-left"]);
    const go = (when, share) => {
      for (const one of stages) {
        if (one.when !== when || one.per === "gun") continue;
        if (one.planned > 0) { clock.wait(); clock.work(one.key, "work", one.planned * share, clock.left); }
        if ((one.planned > 0 || when === "cure") && one["wait-now"] > clock.pending[0]) clock.pending = [one["wait-now"], one.key];
      }
    };
    go("before", 1);
    const on = {}, rounds = [], last = {};
    for (const lay of lays) last[lay.surface] = lay.key;
    for (const lay of lays) {
      const coats = Math.trunc(lay.coats);
      for (let coat = 0; coat < coats; coat += 1) {
        const place = on[lay.surface] || 0;
        on[lay.surface] = place + 1;
        while (rounds.length <= place) rounds.push([]);
        rounds[place].push([lay, coat + 1 === coats && last[lay.surface] === lay.key]);
      }
    }
    const cleans = Object.fromEntries(given.paints.map((one) => [one.key, 0]));
    const spells = Object.fromEntries(given.paints.map((one) => [one.key, one.spell / 60])), stands = Object.fromEntries(given.paints.map((one) => [one.key, one.stands]));
    let before = new Set(), waited = 0;
    for (const [place, coatsOn] of rounds.entries()) {
      if (place) go("between", 1 / (rounds.length - 1));
      go("coat", 1 / rounds.length);
      const hours = new Map();
      for (const [lay] of coatsOn) hours.set(lay.paint, (hours.get(lay.paint) || 0) + lay.gun / Math.trunc(lay.coats));
      const total = [...hours.values()].reduce((sum, one) => sum + one, 0), { pieces } = given, rack = Math.max(1, given.rack);
      const loads = pieces > rack ? Math.ceil(pieces / rack - HAIR) : 1, mixes = new Map();
      for (const [paint, took] of hours) mixes.set(paint, Math.max(1, Math.ceil((took + given.flash * (loads - 1)) / spells[paint] - HAIR)));
      if ([...mixes.values()].reduce((sum, one) => sum + one, 0) > MOST || loads > MOST) return NOTHING;
      for (const [paint, took] of hours) {
        const held = before.has(paint) && waited <= given.holds + HAIR && waited + took <= spells[paint] + HAIR;
        cleans[paint] += Math.max(mixes.get(paint), Math.ceil(took / clock.left - HAIR)) - (held ? 1 : 0);
      }
      before = new Set(hours.keys());
      const more = [...mixes.values()].reduce((sum, one) => sum + (one - 1), 0), anew = more * (given.clean + Math.max(...[...hours.keys()].map((paint) => stands[paint])));
      for (let load = 0; load < loads && clock.visits < MOST; load += 1) {
        clock.wait();
        clock.work(`coat ${place + 1}`, "coat", total / loads, coatLeft);
        if (load + 1 < loads) clock.pending = [given.flash, "rack"];
      }
      clock.work(more > 1 ? `mixed anew ${more} times` : "mixed anew once", "work", anew, clock.left);
      const open = coatsOn.filter(([, done]) => !done).map(([lay]) => lay), dries = open.length ? open : coatsOn.map(([lay]) => lay);
      const slowest = dries.reduce((most, lay) => (lay.dry > most.dry ? lay : most));
      clock.pending = [slowest.dry, `dry ${slowest.paint}`];
      waited = slowest.dry;
    }
    if (rounds.length) clock.pending = [Math.max(...rounds[rounds.length - 1].map(([lay]) => lay.dry), clock.pending[0]), clock.pending[1]];
    go("cure", 1);
    go("after", 1);
    return clock.visits >= MOST ? NOTHING : { bars: clock.bars, visits: clock.visits, days: clock.day + 1, waiting: clock.waiting, onSite: clock.onSite, cleans };
  };
  const visits = (given) => {
    const found = plan(given);
    return { visits: found.visits, days: found.days, waiting: found.waiting, "on-site": found.onSite, paints: given.paints.map((one) => ({ cleans: one.key in found.cleans ? found.cleans[one.key] : NaN })) };
  };

  root.almanacSearches = { tins, visits, plan, cheapest };
})(typeof window === "undefined" ? globalThis : window);
