/* A second copy of the records, in the browser's store for files: it does not fall when the first one is damaged on the disk. Every act that was written is
   written here once more, a moment later. Nobody who cleared the first gets it back unasked: it is offered. Where a page is opened from a file there is none. */
(() => {
  "use strict";
  const keeper = window.almanacKeeper, NAME = "almanac-second", SWEPT = "almanac-second-swept", AFTER = 1500; // ms: words typed in a row go together
  const swept = () => { try { return localStorage.getItem(SWEPT); } catch { return null; } };
  const there = typeof caches === "object" && /^https?:$/.test(location.protocol);
  const place = (first) => `${location.origin}/almanac-second/${encodeURIComponent(first)}`;
  const read = async (store, request) => (await (await store.match(request)).json());
  let waiting = [], clock = 0, turn = Promise.resolve();

  /* Records that were erased for good are erased here too. */
  async function purge(store, gone) {
    for (const request of gone.size ? await store.keys() : []) {
      const { acts, photos } = await read(store, request).catch(() => ({ acts: [], photos: [] }));
      const left = acts.filter((act) => act.kind === "~erased" || !gone.has(act.rec));
      if (left.length === acts.length) continue;
      await store.delete(request);
      if (left.length) await store.put(place(left[0].first), new Response(JSON.stringify({ acts: left, photos: photos.filter(([rec]) => !gone.has(rec)) })));
    }
  }
  async function write(list) {
    const store = await caches.open(NAME);
    const gone = new Set(list.filter((one) => one.erase).map((one) => one.act.rec));
    await purge(store, gone);
    const stay = list.filter((one) => one.erase || !gone.has(one.act.rec));
    const photos = stay.flatMap(({ act, photos }) => (photos || []).map(([name, bytes]) => [act.rec, name, window.almanacPhotos.base64(bytes)]));
    if (stay.length) await store.put(place(stay[0].act.first), new Response(JSON.stringify({ acts: stay.map((one) => one.act), photos })));
  }
  function flush() {
    clearTimeout(clock);
    const list = waiting;
    waiting = [];
    if (list.length) turn = turn.then(() => write(list)).catch(() => {}); // the first copy is what "kept" speaks of
    return turn;
  }
  /* What lies here and is not on the disk of the first: { edits, photos, until }, each edit checked as one from a file is. A part that cannot be read is left as it lies. */
  async function found() {
    const out = { edits: [], photos: [], until: "" };
    if (!there || !keeper.db || !(await caches.has(NAME))) return out;
    await flush();
    const { firsts, gone } = await keeper.onDisk(), store = await caches.open(NAME);
    if (swept() !== String(gone.size)) { // a page may have been killed before it came to it
      await purge(store, gone);
      try { localStorage.setItem(SWEPT, gone.size); } catch { /* looked through again at the next visit */ }
    }
    const lacks = (act) => !firsts.has(act.first) && !gone.has(act.rec);
    for (const request of await store.keys()) {
      if (firsts.has(decodeURIComponent(request.url.slice(place("").length)))) continue; // acts that were written together are lost together
      try {
        const { acts, photos } = await read(store, request), lost = acts.filter(lacks);
        const edits = lost.flatMap((act) => JSON.parse(act.edits).map(window.almanacJournal.checked));
        for (const { when } of edits) if (when > out.until) out.until = when;
        out.edits.push(...edits);
        out.photos.push(...photos.filter(([rec]) => lost.some((act) => act.rec === rec)).map(([rec, name, jpeg]) => [rec, name, window.almanacTakeout.bytesOf(jpeg)]));
      } catch { /* one that is damaged holds up no other */ }
    }
    return out;
  }
  if (there) {
    keeper.addEventListener("wrote", ({ detail }) => { waiting.push(...detail); clearTimeout(clock); clock = setTimeout(flush, detail.some((one) => one.erase) ? 0 : AFTER); });
    for (const name of ["pagehide", "visibilitychange"]) window.addEventListener(name, () => { if (name === "pagehide" || document.hidden) flush(); });
  }
  window.almanacSecond = { found, flush, clear: async () => { await flush(); if (there) await caches.delete(NAME); } };
})();
