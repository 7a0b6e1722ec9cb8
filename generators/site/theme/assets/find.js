/* The search itself: which pages answer what was typed. Pure; Node loads it too. `almanacFind(told, MiniSearch)` → `{ search(text, typing, lean), … }`.
   Each page is known by how people ask for it, by its question, title and headings (phrases), by what people say for it (loose words and short
   pieces), and by its own text. Eleven measures say how well a page fits a question; `told.weigh` says what each of them is worth. They are fitted to
   questions whose page is known (tests/fit_search.py), so nothing here is tuned by hand for one question. */
(function (root) {
  "use strict";
  const FULL = 1, HEAD = 0.74, TITLE = 1.02, MOST = 12, SOFT = 0.5, RARE = 0.4, KNOWN = 4.2, UNKNOWN = 0.35, HALF = 12, ASKED = 0.83, EXACT = 0.4;
  const SMOOTH = 60, COMMON = 5, WORTH = { asked: 2, question: 3, title: 3, head: 1, piece: 1 }; // how much one phrase says of a page's own words
  const ENDS = 6; // of the words that a half typed one may become, how many are looked for in the texts
  const FEW = 5, BEHIND = 5; // after the first few, a page this far behind the best, in the sum of its measures, is not shown
  const NAMES = ["asked", "said", "met", "text", "figures", "own", "small", "pairs", "smallPairs", "whole", "wish"], PLACE = Object.fromEntries(NAMES.map((name, place) => [name, place]));

  /* Steps between two spellings, letters that changed places counting as one; no further than `most`. */
  const apart = (a, b, most) => {
    if (Math.abs(a.length - b.length) > most) return most + 1;
    let before = [], last = Array.from({ length: b.length + 1 }, (_, j) => j);
    for (let i = 1; i <= a.length; i++) {
      const row = [i];
      for (let j = 1; j <= b.length; j++) {
        row[j] = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
        if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) row[j] = Math.min(row[j], before[j - 2] + 1);
      }
      if (Math.min(...row) > most) return most + 1;
      before = last;
      last = row;
    }
    return last[b.length];
  };

  const finder = (told, MiniSearch) => {
    const small = new Set(told.small), whole = new Set(told.whole);
    const twins = told.twins.map(([said, meant]) => [` ${said} `, ` ${meant} `]), begun = new Map(); // first word of what is said → its places in the list
    told.twins.forEach(([said], place) => { const word = said.split(" ")[0]; if (!begun.has(word)) begun.set(word, []); begun.get(word).push(place); });
    const folded = new Map(), plain = (text) => { if (!folded.has(text)) folded.set(text, fold(text)); return folded.get(text); }; // a phrase is asked for more than once
    const fold = (text) => {
      let words = ` ${text.toLowerCase().normalize("NFKD").replace(/[\u0300-\u036f]/g, "").replace(/[’']s\b/g, "s").replace(/[’']/g, "").replace(/[^a-z0-9%]+/g, " ").trim()} `;
      const left = []; // places whose first word is there, to be tried in the order of the list
      const wait = (run, after) => { for (const word of run.split(" ")) for (const place of begun.get(word) || []) if (place > after && !left.includes(place)) left.push(place); left.sort((a, b) => b - a); };
      for (wait(words, -1); left.length;) {
        const place = left.pop(), [said, meant] = twins[place];
        if (!words.includes(said)) continue;
        while (words.includes(said)) { const now = words.replace(said, meant); if (now === words || meant.includes(said)) { words = now; break; } words = now; }
        wait(meant, place); // what one puts in may begin a later one
      }
      return words.trim().replace(/\s+/g, " ");
    };
    const undoubled = (word) => (/([bdgmnprt])\1$/.test(word) ? word.slice(0, -1) : word);
    const cut = (word) => {
      if (whole.has(word) || /[0-9]/.test(word) || word.length < 4) return word;
      let is = word;
      if (/ies$|ied$/.test(is)) is = is.slice(0, -3) + "y";
      else if (/(ss|x|ch|sh)es$/.test(is)) is = is.slice(0, -2);
      else if (/[^suai]s$/.test(is)) is = is.slice(0, -1);
      if (whole.has(is)) return is;
      if (/ing$/.test(is) && is.length > 5) is = undoubled(is.slice(0, -3));
      else if (/[^e]ed$/.test(is) && is.length > 4) is = undoubled(is.slice(0, -2));
      else if (/ly$/.test(is) && is.length > 5) is = is.slice(0, -2);
      if (/e$/.test(is) && is.length > 3) is = is.slice(0, -1);
      return is;
    };
    const stemmed = new Map(), stem = (word) => { if (!stemmed.has(word)) stemmed.set(word, cut(word)); return stemmed.get(word); };
    const stems = (text) => [...new Set(plain(text).split(" ").filter((word) => word && !small.has(word)).map(stem))];

    const phrases = [], pages = new Map(), spread = new Map();
    /** @type {{ at: string, words: string[], whole?: number }[]} */
    const pieces = [];
    const pairs = new Map(); // two words that follow each other → the pages where they do
    const counts = new Map(), every = new Map(); // for each page: what is said in its own words, counted; the same of all pages
    let sum = 0;
    for (const page of told.pages) {
      pages.set(page.at, page);
      const seen = new Set(), own = new Map();
      let size = 0;
      const read = (text, worth) => {
        const row = plain(text).split(" ").filter(Boolean), stemmedRow = row.map(stem);
        for (const word of new Set(stemmedRow)) { own.set(word, (own.get(word) || 0) + worth); size += worth; }
        stemmedRow.forEach((word, place) => { if (place) { const pair = `${stemmedRow[place - 1]} ${word}`; if (!pairs.has(pair)) pairs.set(pair, new Set()); pairs.get(pair).add(page.at); } });
        const words = [...new Set(row.filter((word) => !small.has(word)).map(stem))];
        words.forEach((word) => seen.add(word));
        return words;
      };
      const take = (text, weight, worth) => { const words = read(text, worth); if (words.length) phrases.push({ at: page.at, words: new Set(words), weight }); };
      for (const one of page.asked) take(one, FULL, WORTH.asked);
      if (page.question) take(page.question, TITLE, WORTH.question);
      take(page.title, TITLE, WORTH.title);
      for (const head of page.heads) take(head, HEAD, WORTH.head);
      for (const one of (page.words || "").split(",")) { const words = read(one, WORTH.piece); if (words.length) pieces.push({ at: page.at, words, whole: 0 }); }
      for (const word of seen) spread.set(word, (spread.get(word) || 0) + 1);
      for (const [word, much] of own) { every.set(word, (every.get(word) || 0) + Math.min(much, COMMON)); sum += Math.min(much, COMMON); }
      counts.set(page.at, { own, size });
    }
    const oftenOf = (word) => (every.get(word) || 0.3) / sum;
    /* What a question wishes, as phrases: a star is one word, … any number, ^ and $ the question's ends. */
    const wished = (lists) => Object.entries(lists || {}).map(([at, list]) => ({ at: at.replace(/\.md$/, ".html"), forms: list.map((text) => {
      const flat = (run) => plain(run).split(" ").filter(Boolean).map((word) => ` ${small.has(word) ? word : stem(word)}`).join("");
      const form = text.split(/([*…^$])/).map((run) => ({ "*": " [^ ]+", "…": "(?: [^ ]+)*?", "^": "^", $: " $" })[run] || flat(run)).join("");
      return new RegExp(form.endsWith("$") ? form : `${form} `);
    }) }));
    const wishes = wished(told.wishes), firsts = wished(told.first), calm = wished({ "": told.calm || [] })[0].forms;
    const bodies = new MiniSearch({ fields: ["title", "asked", "heads", "text"], idField: "at", tokenize: (text) => text.split(" "), processTerm: (word) => (!word || small.has(word) ? null : stem(word)) });
    const texts = told.pages.map((page) => page.text); // folded when the site was built
    bodies.addAll(told.pages.map((page, place) => ({ at: page.at, title: plain(page.title), asked: page.asked.map(plain).join(" "), heads: page.heads.map(plain).join(" "), text: texts[place] })));
    const inBodies = new Set();
    for (const text of texts) for (const word of text.split(" ")) if (word && !small.has(word)) inBodies.add(stem(word));
    const inForms = Object.values({ ...told.wishes, ...told.first }).flat().flatMap((text) => stems(text.replace(/[*…^$]/g, " ")));
    const known = new Set([...spread.keys(), ...inBodies, ...inForms]);
    const soft = new Set(told.soft.map(stem));
    const rare = (word) => (soft.has(word) ? SOFT : RARE + KNOWN * HALF / (HALF + (spread.get(word) || (inBodies.has(word) ? 2 : 0))));

    /* Word → what holds it, and what each of them weighs in all. */
    const holding = (list) => {
      const by = new Map();
      for (const one of list) {
        one.whole = 0;
        for (const word of one.words) { one.whole += rare(word); if (!by.has(word)) by.set(word, []); by.get(word).push(one); }
      }
      return by;
    };
    const phrasesWith = holding(phrases), piecesWith = holding(pieces);

    /* For each page, how well what people say for it knows each word of the question, 0…1: by the piece that holds most of it, and of that by the share that was typed.
       `whole`: how much of the question is a piece of several words, met in full. */
    const saidOf = (groups, total) => {
      const met = new Map(), said = new Map(), whole = new Map();
      groups.forEach((group, place) => {
        const here = new Map();
        for (const word of group) for (const piece of piecesWith.get(word) || []) here.set(piece, Math.max(here.get(piece) || 0, rare(word)));
        for (const [piece, much] of here) { if (!met.has(piece)) met.set(piece, []); met.get(piece).push([place, much]); }
      });
      for (const [piece, places] of met) {
        const held = places.reduce((all, [, much]) => all + much, 0), share = Math.min(1, held / piece.whole);
        if (!said.has(piece.at)) said.set(piece.at, groups.map(() => 0));
        const shares = said.get(piece.at);
        for (const [place] of places) shares[place] = Math.max(shares[place], share);
        if (piece.words.length > 1 && places.length >= piece.words.length) whole.set(piece.at, Math.max(whole.get(piece.at) || 0, held / total));
      }
      return { said, whole };
    };

    /* A word that no page knows becomes the nearest one; the last word while typing may be the beginning of one. */
    const letters = (word) => { let set = 0; for (let place = 0; place < word.length; place++) set |= 1 << (word.charCodeAt(place) & 31); return set; };
    const many = (set) => { let count = 0; for (let left = set; left; left &= left - 1) count += 1; return count; };
    const marks = [...known].map((word) => [word, letters(word)]), starts = [...spread.keys()], remembered = new Map();
    const mended = (word, last) => {
      const key = last ? `${word} ` : word;
      if (!remembered.has(key)) remembered.set(key, nearest(word, last));
      return remembered.get(key);
    };
    const nearest = (word, last) => {
      const letter = word.length < 2; // a first key: the beginning of a word, whatever letters stand alone on the pages
      if (known.has(word) && !(letter && last)) return [word];
      if (last) { const begun = starts.filter((other) => other.startsWith(word)).slice(0, 40); if (begun.length) return begun; }
      if (word.length < 4 || /[0-9]/.test(word)) return [word];
      const most = word.length < 6 ? 1 : 2;
      let best = [], least = most + 1;
      const mine = letters(word);
      for (const [other, set] of marks) {
        if (many(mine ^ set) > 2 * most) continue; // each step changes two letters at the most
        const steps = apart(word, other, most) + (other[0] === word[0] ? 0 : 0.5) + (spread.has(other) ? 0 : 0.25);
        if (steps < least) { least = steps; best = [other]; } else if (steps === least && steps <= most) best.push(other);
      }
      if (best.length) return best;
      const begun = [...known].filter((other) => other.length > 3 && (other.startsWith(word) || word.startsWith(other))).slice(0, 8);
      return begun.length ? begun : [word];
    };

    /* How well each page fits: { fit: address → its measures in the order of NAMES, wanted: pages that come before all others }; null where nothing was asked.
       `typing`: the last word may not be whole yet; `lean`: what figures in the question add to a page. */
    const measure = (text, typing, lean) => {
      const raw = plain(text).split(" ").filter(Boolean);
      let words = [...new Set(raw.filter((word) => !small.has(word)))];
      if (!words.length) words = raw;
      if (!words.length) return null;
      const groups = words.map((word, place) => mended(stem(word), typing && place === words.length - 1 && word === raw[raw.length - 1]));
      const weigh = groups.map((group) => Math.max(...group.map(rare)) * (group.some((word) => known.has(word)) ? 1 : UNKNOWN));
      const total = weigh.reduce((a, b) => a + b, 0) || 1, share = (of) => weigh.reduce((all, much, place) => all + much * of(place), 0) / total;
      const fit = new Map();
      const rowOf = (at) => { let row = fit.get(at); if (!row) fit.set(at, row = new Float64Array(NAMES.length)); return row; };
      const put = (at, name, value) => { rowOf(at)[PLACE[name]] = value; }, get = (at, name) => rowOf(at)[PLACE[name]];

      const covers = new Map();
      const metBy = new Map(); // phrase → [what it shares with the question, what of it was met, the words met, their places]
      groups.forEach((group, place) => {
        for (const word of group) for (const phrase of phrasesWith.get(word) || []) {
          let met = metBy.get(phrase);
          if (!met) metBy.set(phrase, met = { hit: 0, own: 0, words: [], places: [] });
          if (met.places[met.places.length - 1] === place) continue;
          met.hit += weigh[place];
          met.places.push(place);
          if (!met.words.includes(word)) { met.own += rare(word); met.words.push(word); }
        }
      });
      for (const [phrase, { hit, own, places }] of metBy) {
        const asked = hit / total, used = own / phrase.whole; // of the question, of the phrase; nothing that is only said may beat a phrase that is met both ways
        put(phrase.at, "asked", Math.max(get(phrase.at, "asked"), phrase.weight * (ASKED * asked + (1 - ASKED) * used + EXACT * (asked * used) ** 2)));
        if (!covers.has(phrase.at)) covers.set(phrase.at, new Set());
        for (const place of places) covers.get(phrase.at).add(place);
      }
      const found = bodies.search(groups.flatMap((group) => group.slice(0, ENDS)).join(" "), { processTerm: (word) => word, tokenize: (all) => all.split(" "), boost: { title: 2.5, asked: 2.5, heads: 1.6 }, combineWith: "OR" });
      for (const one of found) put(one.id, "text", one.score / found[0].score);
      const { said, whole } = saidOf(groups, total);
      for (const at of new Set([...said.keys(), ...covers.keys()])) {
        const shares = said.get(at) || [], cover = covers.get(at) || new Set();
        put(at, "said", share((place) => shares[place] || 0));
        put(at, "met", share((place) => (cover.has(place) ? 1 : shares[place] || 0)));
      }
      for (const [at, much] of whole) put(at, "whole", much);
      for (const [at, gain] of Object.entries(lean || {})) if (pages.has(at)) put(at, "figures", gain);

      // The question word by word, small ones too: who says "what does … mean" asks something else than who says "how do I …".
      const row = raw.map((word) => (words.includes(word) ? groups[words.indexOf(word)] : [stem(word)]));
      for (let place = 1; place < row.length; place++) {
        const at = new Set(row[place - 1].flatMap((one) => row[place].flatMap((other) => [...(pairs.get(`${one} ${other}`) || [])])));
        const name = small.has(raw[place - 1]) || small.has(raw[place]) ? "smallPairs" : "pairs", much = Math.log(pages.size / (at.size + 1)) / 10;
        for (const one of at) put(one, name, get(one, name) + much);
      }
      const line = ` ${raw.map((word, place) => (small.has(word) || row[place].length > 1 ? word : row[place][0])).join(" ")} `;
      for (const { at, forms } of wishes) if (forms.some((form) => form.test(line)) && pages.has(at)) put(at, "wish", 1);
      const alarmed = calm.reduce((left, form) => left.replace(form, " "), line); // low sun "in my eyes" hurts nobody
      const wanted = new Set(firsts.filter(({ at, forms }) => pages.has(at) && forms.some((form) => form.test(alarmed))).map(({ at }) => at));
      for (const at of wanted) put(at, "wish", 1);
      const plainWords = raw.filter((word) => small.has(word)).map(stem);
      const usual = groups.map((group) => SMOOTH * Math.max(...group.map(oftenOf))), often = plainWords.map(oftenOf);
      for (const [at, is] of fit) {
        const { own, size } = counts.get(at);
        let much = 0, little = 0;
        groups.forEach((group, place) => { let most = 0; for (const word of group) most = Math.max(most, own.get(word) || 0); if (most) much += Math.log(1 + most / usual[place]); });
        plainWords.forEach((word, place) => { little += Math.log(((own.get(word) || 0) / often[place] + SMOOTH) / (size + SMOOTH)); });
        is[PLACE.own] = much / 10;
        is[PLACE.small] = little / 10;
      }
      return { fit, wanted };
    };

    const worth = NAMES.map((name) => told.weigh[name]);
    /* Pages for a text, best first: [{ at, title, question, answer, score }]. */
    const search = (text, typing, lean) => {
      const measured = measure(text, typing, lean);
      if (!measured || !measured.fit.size) return [];
      const scored = [...measured.fit].map(([at, is]) => [at, is.reduce((all, much, place) => all + much * worth[place], told.weigh.kinds[pages.get(at).kind] || 0)]);
      const first = (one) => (measured.wanted.has(one[0]) ? 1 : 0), order = scored.sort((a, b) => first(b) - first(a) || b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
      const top = Math.max(...order.map(([, score]) => score));
      return order.filter((one, place) => place < FEW || one[1] > top - BEHIND).slice(0, MOST).map(([at, score]) => ({ ...pages.get(at), score }));
    };
    return { search, stems, measure, names: NAMES };
  };
  root.almanacFind = finder;
  if (typeof module !== "undefined") module.exports = finder;
})(typeof window === "undefined" ? globalThis : window);
