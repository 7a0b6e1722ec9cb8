/* The search itself: which pages answer what was typed. Pure; Node loads it too. `almanacFind(told, MiniSearch)` → `{ search(text, typing) }`.
   Each page is known by how people ask for it, by its question, title and headings (phrases), by what people say for it (loose words and short
   pieces), and by its own text. A phrase counts by how much of the question it covers, rare words for more. What is said counts by the same measure,
   a word once however many pieces have it, so that a long list gains nothing by its length. The library ranks the text and settles what is left. */
(function (root) {
  "use strict";
  const FULL = 1, HEAD = 0.74, BODY = 0.15, TITLE = 1.02, MOST = 12, LEAST = 0.2, SOFT = 0.5, RARE = 0.4, KNOWN = 4.2, UNKNOWN = 0.35, HALF = 12, ASKED = 0.83, SECOND = 0.25, SAID = 0.6, MET = 1, EXACT = 0.4;

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
    const twins = told.twins.map(([said, meant]) => [` ${said} `, ` ${meant} `]), begins = new Set(told.twins.map(([said]) => said.split(" ")[0]));
    const plain = (text) => {
      let words = ` ${text.toLowerCase().normalize("NFKD").replace(/[\u0300-\u036f]/g, "").replace(/[’']s\b/g, "s").replace(/[’']/g, "").replace(/[^a-z0-9%]+/g, " ").trim()} `;
      if (words.split(" ").some((word) => begins.has(word))) for (const [said, meant] of twins) while (words.includes(said)) { const now = words.replace(said, meant); if (now === words || meant.includes(said)) { words = now; break; } words = now; }
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
    for (const page of told.pages) {
      pages.set(page.at, page);
      const seen = new Set();
      const take = (text, weight) => { const words = stems(text); if (words.length) { phrases.push({ at: page.at, words: new Set(words), weight }); words.forEach((word) => seen.add(word)); } };
      for (const one of page.asked) take(one, FULL);
      if (page.question) take(page.question, TITLE);
      take(page.title, TITLE);
      for (const head of page.heads) take(head, HEAD);
      for (const one of (page.words || "").split(",")) { const words = stems(one); if (words.length) { pieces.push({ at: page.at, words, whole: 0 }); words.forEach((word) => seen.add(word)); } }
      for (const word of seen) spread.set(word, (spread.get(word) || 0) + 1);
    }
    const bodies = new MiniSearch({ fields: ["title", "asked", "heads", "text"], idField: "at", tokenize: (text) => text.split(" "), processTerm: (word) => (!word || small.has(word) ? null : stem(word)) });
    const texts = told.pages.map((page) => plain(page.text));
    bodies.addAll(told.pages.map((page, place) => ({ at: page.at, title: plain(page.title), asked: plain(page.asked.join(" ")), heads: plain(page.heads.join(" ")), text: texts[place] })));
    const inBodies = new Set();
    for (const text of texts) for (const word of text.split(" ")) if (word && !small.has(word)) inBodies.add(stem(word));
    const known = new Set([...spread.keys(), ...inBodies]);
    const soft = new Set(told.soft.map(stem));
    const rare = (word) => (soft.has(word) ? SOFT : RARE + KNOWN * HALF / (HALF + (spread.get(word) || (inBodies.has(word) ? 2 : 0))));

    const piecesWith = new Map();
    for (const piece of pieces) {
      piece.whole = piece.words.reduce((all, word) => all + rare(word), 0);
      for (const word of piece.words) { if (!piecesWith.has(word)) piecesWith.set(word, []); piecesWith.get(word).push(piece); }
    }

    /* For each page, how well what people say for it knows each word of the question, 0…1: by the piece that holds most of it, and of that by the share that was typed. */
    const saidOf = (groups) => {
      const met = new Map(), said = new Map();
      groups.forEach((group, place) => {
        const here = new Map();
        for (const word of group) for (const piece of piecesWith.get(word) || []) here.set(piece, Math.max(here.get(piece) || 0, rare(word)));
        for (const [piece, much] of here) { if (!met.has(piece)) met.set(piece, []); met.get(piece).push([place, much]); }
      });
      for (const [piece, places] of met) {
        const share = Math.min(1, places.reduce((all, [, much]) => all + much, 0) / piece.whole);
        if (!said.has(piece.at)) said.set(piece.at, groups.map(() => 0));
        const shares = said.get(piece.at);
        for (const [place] of places) shares[place] = Math.max(shares[place], share);
      }
      return said;
    };

    /* A word that no page knows becomes the nearest one; the last word while typing may be the beginning of one. */
    const mended = (word, last) => {
      const letter = word.length < 2; // a first key: the beginning of a word, whatever letters stand alone on the pages
      if (known.has(word) && !(letter && last)) return [word];
      if (last) { const begun = [...spread.keys()].filter((other) => other.startsWith(word)).slice(0, 40); if (begun.length) return begun; }
      if (word.length < 4 || /[0-9]/.test(word)) return [word];
      const most = word.length < 6 ? 1 : 2;
      let best = [], least = most + 1;
      for (const other of known) {
        const steps = apart(word, other, most) + (other[0] === word[0] ? 0 : 0.5) + (spread.has(other) ? 0 : 0.25);
        if (steps < least) { least = steps; best = [other]; } else if (steps === least && steps <= most) best.push(other);
      }
      if (best.length) return best;
      const begun = [...known].filter((other) => other.length > 3 && (other.startsWith(word) || word.startsWith(other))).slice(0, 8);
      return begun.length ? begun : [word];
    };

    /* Pages for a text, best first: [{ at, title, question, answer, score }]. `typing`: the last word may not be whole yet; `lean`: what
       figures in the question add to a page. */
    const search = (text, typing, lean) => {
      const raw = plain(text).split(" ").filter(Boolean);
      let words = [...new Set(raw.filter((word) => !small.has(word)))];
      if (!words.length) words = raw;
      if (!words.length) return [];
      const groups = words.map((word, place) => mended(stem(word), typing && place === words.length - 1 && word === raw[raw.length - 1]));
      const weigh = groups.map((group) => Math.max(...group.map(rare)) * (group.some((word) => known.has(word)) ? 1 : UNKNOWN));
      const total = weigh.reduce((a, b) => a + b, 0) || 1;
      const best = new Map(), covers = new Map();
      for (const phrase of phrases) {
        let hit = 0, own = 0;
        const met = new Set();
        groups.forEach((group, place) => { const found = group.find((word) => phrase.words.has(word)); if (found) { hit += weigh[place]; met.add(found); } });
        if (!hit) continue;
        let whole = 0;
        for (const word of phrase.words) { const much = rare(word); whole += much; if (met.has(word)) own += much; }
        const asked = hit / total, used = own / whole; // of the question, of the phrase; nothing that is only said may beat a phrase that is met both ways
        const score = phrase.weight * (ASKED * asked + (1 - ASKED) * used + EXACT * (asked * used) ** 2);
        const list = best.get(phrase.at) || [];
        list.push(score);
        best.set(phrase.at, list);
        let cover = covers.get(phrase.at);
        if (!cover) covers.set(phrase.at, cover = new Set());
        groups.forEach((group, place) => { if (group.some((word) => phrase.words.has(word))) cover.add(place); });
      }
      const ranked = new Map();
      const found = bodies.search(groups.flat().join(" "), { processTerm: (word) => word, tokenize: (text) => text.split(" "), boost: { title: 2.5, asked: 2.5, heads: 1.6 }, combineWith: "OR" });
      const top = found.length ? found[0].score : 1;
      for (const one of found) ranked.set(one.id, BODY * one.score / top);
      for (const [at, list] of best) {
        list.sort((a, b) => b - a);
        ranked.set(at, (ranked.get(at) || 0) + list[0] + SECOND * (list[1] || 0));
      }
      const said = saidOf(groups), share = (of) => weigh.reduce((all, much, place) => all + much * of(place), 0) / total;
      for (const at of new Set([...said.keys(), ...covers.keys()])) {
        const shares = said.get(at) || [], cover = covers.get(at) || new Set();
        ranked.set(at, (ranked.get(at) || 0) + SAID * share((place) => shares[place] || 0) + MET * share((place) => (cover.has(place) ? 1 : shares[place] || 0)));
      }
      for (const [at, gain] of Object.entries(lean || {})) if (pages.has(at)) ranked.set(at, (ranked.get(at) || 0) + gain);
      for (const [at, score] of ranked) ranked.set(at, score * pages.get(at).weight);
      const order = [...ranked].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
      return order.filter(([, score]) => score >= LEAST * order[0][1]).slice(0, MOST).map(([at, score]) => ({ ...pages.get(at), score }));
    };
    return { search, stems };
  };
  root.almanacFind = finder;
  if (typeof module !== "undefined") module.exports = finder;
})(typeof window === "undefined" ? globalThis : window);
