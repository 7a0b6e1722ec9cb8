/* Put before the search worker at build time: the reader's words become words that the handbook uses.
   Slang and UK/US twins come from site_data; a misspelling becomes the nearest word that is in the index. */
(() => {
  "use strict";
  const TWINS = __TWINS__;
  const SMALL = new Set(__SMALL__);
  let known = new Set();
  const words = (text) => text.toLowerCase().replace(/<[^>]*>/g, " ").match(/[a-z][a-z'-]{2,}/g) || [];

  /* Optimal string alignment distance, no further than `most`. */
  function apart(a, b, most) {
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
  }

  function nearest(word) {
    if (word.length < 4 || known.has(word)) return word;
    for (const other of known) if (other.startsWith(word)) return word;
    const most = word.length < 6 ? 1 : 2;
    let best = word, least = most + 1;
    for (const other of known) {
      const steps = apart(word, other, most) + (other[0] === word[0] ? 0 : 0.5);
      if (steps < least) { least = steps; best = other; }
    }
    return best;
  }

  const mend = (query) => {
    let text = " " + query.toLowerCase().replace(/[^a-z0-9%°' -]+/g, " ").replace(/\s+/g, " ").trim() + " ";
    for (const [said, meant] of TWINS) text = text.split(" " + said + " ").join(" " + meant + " ");
    const left = text.trim().split(" ").map(nearest).filter((word) => word && !SMALL.has(word));
    return left.length ? [...new Set(left)].join(" ") : query;
  };

  addEventListener("message", (event) => {
    const told = event.data;
    if (!told || told.mended) return;
    if (told.type === 0) {
      known = new Set();
      for (const page of told.data.docs) for (const text of [page.title, page.text, ...(page.tags || [])]) for (const word of words(text || "")) known.add(word);
    } else if (told.type === 2 && typeof told.data === "string") {
      event.stopImmediatePropagation();
      dispatchEvent(new MessageEvent("message", { data: { type: 2, data: mend(told.data), mended: true } }));
    }
  });
})();
