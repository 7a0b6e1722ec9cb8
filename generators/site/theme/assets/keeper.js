/* The keeper: writes the journal's edits into this browser's store, each act in a transaction of its own that is on the disk before it counts, and says
   truly what is kept and what is not. What could not be written stays in memory, is tried again, and can always be taken out.

   An act is what one press or one word did: { rec, kind, at, first, edits } with the edits as one JSON text; `first` names its first edit. */
(() => {
  "use strict";
  const { Journal, Refusal, checked, key, letters, localTime } = window.almanacJournal;
  const NAME = "almanac-journal", VERSION = 1, SINCE = "almanac-kept-since", LOST = "almanac-lost-since";
  const STRICT = /** @type {IDBTransactionOptions} */ ({ durability: "strict" });
  const spare = { get: (name) => { try { return localStorage.getItem(name); } catch { return null; } }, set: (name, text) => { try { localStorage.setItem(name, text); } catch { /* it is only a second witness */ } }, drop: (name) => { try { localStorage.removeItem(name); } catch { /* nor this */ } } };
  const REASONS = { QuotaExceededError: "this device has no room", VersionError: "a newer edition of this handbook has written here: open that one", InvalidStateError: "this browser keeps nothing here", SecurityError: "this browser keeps nothing here" };
  const reason = (error) => (error && REASONS[error.name]) || `this browser's store failed${error && error.name ? ` (${error.name})` : ""}`;
  const done = (request) => new Promise((good, bad) => { request.onsuccess = () => good(request.result); request.onerror = (event) => { event.preventDefault(); bad(request.error); }; });
  const finished = (tx) => new Promise((good, bad) => { tx.oncomplete = () => good(); tx.onabort = () => bad(tx.error || new DOMException("aborted", "AbortError")); });

  class Keeper extends EventTarget {
    constructor() {
      super();
      this.journal = new Journal(Journal.dev(letters(8)));
      this.db = null;
      this.queue = []; // acts not yet on the disk, oldest first
      this.photos = new Map(); // "rec/name" → JPEG bytes that are not yet on the disk
      this.stored = new Set(); // records that were read from the disk, not made on this page
      this.unread = []; // texts that this edition cannot read: left as they lie, and taken out with the rest
      this.kinds = new Set(); // kinds of record that were read into the journal; "*" is all
      this.last = 0; // the place of the newest act that was read
      this.why = "";
      this.wait = 0;
      this.lost = "";
      this.ready = this.begin();
      try { this.channel = new BroadcastChannel(NAME); this.channel.onmessage = (event) => this.heard(event.data); } catch { this.channel = null; }
      document.addEventListener("visibilitychange", () => { if (!document.hidden) { this.catchUp(); this.pump(); } });
      window.addEventListener("beforeunload", (event) => { if (this.queue.length) event.preventDefault(); });
    }
    async begin() {
      // A store that does not answer holds no page up: it is opened again by and by, and until then nothing is called kept.
      const late = new Promise((_, bad) => { setTimeout(() => bad(new DOMException("slow", "TimeoutError")), 4000); });
      try { await Promise.race([this.open(), late]); } catch (error) { this.why = reason(error); }
      if (this.db) {
        try {
          const device = await this.device();
          this.journal.dev = Journal.dev(device);
        } catch (error) { this.why = reason(error); }
      }
      this.changed();
    }
    open() {
      return new Promise((good, bad) => {
        const asked = indexedDB.open(NAME, VERSION);
        asked.onupgradeneeded = () => {
          const acts = asked.result.createObjectStore("acts", { autoIncrement: true });
          acts.createIndex("first", "first", { unique: true });
          for (const name of ["rec", "kind", "at"]) acts.createIndex(name, name);
          asked.result.createObjectStore("photos", { keyPath: ["rec", "name"] });
          asked.result.createObjectStore("erased", { keyPath: "rec" });
          asked.result.createObjectStore("notes", { keyPath: "name" });
        };
        asked.onblocked = () => { this.why = "another page of this handbook holds the store: close it"; this.changed(); };
        asked.onerror = (event) => { event.preventDefault(); bad(asked.error); };
        asked.onsuccess = () => {
          const db = asked.result;
          // The browser closed it (cleared, or the disk went): say so, and open it again at the next word.
          db.onclose = () => { this.db = null; this.why = "this browser closed its store"; this.changed(); this.later(); };
          db.onversionchange = () => { db.close(); this.db = null; this.why = "a newer edition of this handbook takes the store over: load this page again"; this.changed(); };
          this.db = db;
          good(db);
        };
      });
    }
    async device() {
      const tx = this.db.transaction("notes", "readwrite", STRICT), store = tx.objectStore("notes");
      const found = await done(store.get("device"));
      const name = found && /^[a-z0-9]{8}$/.test(found.value) ? found.value : letters(8);
      if (!found) store.put({ name: "device", value: name });
      await finished(tx).catch(() => {}); // a full disk still gives this page a name of its own
      return name;
    }
    note(name, value) { if (this.db) try { this.db.transaction("notes", "readwrite").objectStore("notes").put({ name, value }); } catch { /* told by the next word */ } }
    async noted(name) { await this.ready; try { return ((await done(this.db.transaction("notes").objectStore("notes").get(name))) || {}).value ?? null; } catch { return null; } }

    /* Reading. */

    /* Everything of these kinds ("*": all of it) into the journal. */
    async load(...kinds) {
      await this.ready;
      const wanted = this.kinds.has("*") ? [] : kinds.filter((kind) => !this.kinds.has(kind));
      for (const kind of wanted) this.kinds.add(kind);
      if (!this.db || !wanted.length) return;
      try {
        const tx = this.db.transaction(["acts", "erased"]), acts = tx.objectStore("acts");
        const newest = await done(acts.index("at").openKeyCursor(null, "prev"));
        if (newest && Number.isSafeInteger(newest.key)) this.journal.at = Math.max(this.journal.at, newest.key);
        const end = await done(acts.openKeyCursor(null, "prev"));
        const lists = await Promise.all((wanted.includes("*") ? [null] : [...wanted, "~erased"]).map((kind) => done(kind === null ? acts.getAll() : acts.index("kind").getAll(kind))));
        for (const act of lists.flat()) { this.stored.add(act.rec); this.taken(act); }
        // Acts that come while this page reads are told by the channel; those that the channel missed are read from here on.
        this.last = Math.max(this.last, end ? end.key : 0);
        if (!end && spare.get(SINCE) && !this.lost) spare.set(LOST, spare.get(SINCE));
        this.lost = this.lost || spare.get(LOST) || ""; // said on each visit until it is answered
        if (end && !spare.get(SINCE)) spare.set(SINCE, localTime());
      } catch (error) { this.why = reason(error); }
      this.changed();
    }
    /* An act as it lies in the store, or came from another page. What cannot be read is set aside, never dropped. */
    taken(act) {
      let edits;
      try { edits = JSON.parse(act.edits).map(checked); for (const edit of edits) this.journal.take(edit); return edits; } catch {
        const text = JSON.stringify(act);
        if (!this.unread.includes(text)) this.unread.push(text);
        return [];
      }
    }
    holds(kind) { return this.kinds.has("*") || this.kinds.has(kind) || kind === "~erased"; }
    heard(message) {
      const acts = (message && message.acts) || [];
      for (const act of acts) if (Number.isSafeInteger(act.at)) this.journal.at = Math.max(this.journal.at, act.at);
      const fresh = acts.filter((act) => this.holds(act.kind)).flatMap((act) => this.taken(act));
      for (const edit of fresh) if (edit.field === "~erased") this.forget(edit.rec);
      if (fresh.length) this.dispatchEvent(new CustomEvent("news", { detail: new Set(fresh.map((edit) => edit.rec)) }));
    }
    /* What other pages wrote while this one slept, or where the channel does not reach. */
    async catchUp() {
      if (!this.db || !this.kinds.size) return;
      try {
        const tx = this.db.transaction("acts"), acts = tx.objectStore("acts"), range = IDBKeyRange.lowerBound(this.last, true);
        const [keys, found] = await Promise.all([done(acts.getAllKeys(range)), done(acts.getAll(range))]);
        if (keys.length) this.last = Math.max(this.last, keys.at(-1));
        this.heard({ acts: found });
      } catch { /* told by the next word */ }
    }

    /* Writing. */

    /* Edits of one record, made just now, to be written together. They stand in the journal already. */
    keep(kind, edits, photos = []) {
      if (!edits.length) return;
      const rec = edits[0].rec;
      for (const [name, bytes] of photos) this.photos.set(`${rec}/${name}`, bytes);
      this.queue.push({ act: { rec, kind, at: Math.max(...edits.map((edit) => edit.at)), first: key(edits[0]), edits: JSON.stringify(edits) }, photos });
      this.changed();
      this.pump();
    }
    /* One record erased for good: its edits and photographs go and its name alone stays, in one transaction. */
    erase(rec) {
      const edit = this.journal.erase(rec);
      this.forget(rec);
      this.queue.push({ act: { rec, kind: "~erased", at: edit.at, first: key(edit), edits: JSON.stringify([edit]) }, photos: [], erase: true });
      this.dispatchEvent(new CustomEvent("news", { detail: new Set([rec]) }));
      this.changed();
      this.pump();
    }
    forget(rec) {
      this.queue = this.queue.filter((one) => one.act.rec !== rec || one.erase);
      for (const name of [...this.photos.keys()]) if (name.startsWith(`${rec}/`)) this.photos.delete(name);
    }
    async pump() {
      if (this.pumping || !this.queue.length) return;
      this.pumping = true;
      await this.ready;
      try {
        if (!this.db) { await this.open(); await this.look(); }
        let failed = null;
        const wrote = (list) => {
          this.queue = this.queue.filter((other) => !list.includes(other));
          for (const one of list) for (const [name] of one.photos) this.photos.delete(`${one.act.rec}/${name}`);
          if (this.channel) this.channel.postMessage({ acts: list.map((one) => one.act) });
          if (!spare.get(SINCE)) spare.set(SINCE, localTime());
          this.dispatchEvent(new CustomEvent("wrote", { detail: list }));
        };
        // Those that queued up while the last one was written go together; where that fails, one after another, so that a photograph that finds no room holds no word back.
        const all = [...this.queue];
        try { await this.write(all); wrote(all); } catch (error) {
          if (!this.db || all.length === 1) throw error;
          for (const one of all) {
            if (!this.queue.includes(one)) continue;
            try { await this.write([one]); wrote([one]); } catch (alone) { failed = alone; if (!this.db) throw alone; }
            this.changed();
          }
        }
        if (!failed) { this.why = ""; this.wait = 0; }
        if (failed) throw failed;
      } catch (error) {
        this.why = reason(error);
        if (error && error.name === "InvalidStateError") this.db = null; // a closed connection: opened again at the next try
        this.later();
      }
      this.pumping = false;
      this.changed();
      if (this.queue.length && !this.wait) this.pump();
    }
    /* After the store was closed under this page: whether it was emptied. What this page has read can still be taken out; nobody who cleared it gets it back unasked. */
    async look() {
      const count = await done(this.db.transaction("acts").objectStore("acts").count());
      if (!count && (this.last || this.journal.n > this.queue.length)) this.lost = spare.get(SINCE) || "before";
    }
    later() {
      this.wait = Math.min(Math.max(this.wait * 2, 1000), 30000);
      clearTimeout(this.timer);
      this.timer = setTimeout(() => { this.wait = this.wait || 1000; this.pump(); }, this.wait);
    }
    /* What is on the disk, by name: the first edit of every act, and the records that were erased for good. */
    async onDisk() {
      await this.ready;
      const tx = this.db.transaction(["acts", "erased"]), index = tx.objectStore("acts").index("first"), firsts = new Set();
      const walk = index.openKeyCursor();
      walk.onsuccess = () => { if (walk.result) { firsts.add(walk.result.key); walk.result.continue(); } };
      const gone = new Set(await done(tx.objectStore("erased").getAllKeys()));
      await finished(tx);
      return { firsts, gone };
    }
    /* What was lost is answered: it came back out of the second copy, or it was cleared on purpose. */
    answered() { spare.drop(LOST); spare.set(SINCE, localTime()); this.lost = ""; this.changed(); }
    /* Acts in one strict transaction; resolved when the browser says that it is on the disk. */
    write(list, loose = []) {
      let tx;
      try { tx = this.db.transaction(["acts", "photos", "erased"], "readwrite", STRICT); } catch (error) { return Promise.reject(error); }
      const acts = tx.objectStore("acts"), photos = tx.objectStore("photos"), erased = tx.objectStore("erased");
      const add = (act) => { const asked = acts.add(act); asked.onerror = (event) => { if (asked.error.name === "ConstraintError") { event.preventDefault(); event.stopPropagation(); } }; }; // it is there already
      for (const { act, photos: pictures, erase } of list) {
        if (erase) {
          for (const place of [acts.index("rec").openCursor(act.rec), photos.openCursor(IDBKeyRange.bound([act.rec], [act.rec, "￿"]))]) {
            place.onsuccess = () => { const cursor = place.result; if (cursor) { if (cursor.value.kind !== "~erased") cursor.delete(); cursor.continue(); } };
          }
          erased.put({ rec: act.rec });
          add(act);
        } else {
          const asked = erased.get(act.rec);
          asked.onsuccess = () => { if (asked.result) return; add(act); for (const [name, bytes] of pictures) photos.put({ rec: act.rec, name, bytes }); };
        }
      }
      for (const one of loose) photos.put(one);
      return finished(tx);
    }
    /* A whole file's edits and photographs, in one transaction: all of it or nothing. The number of edits that are new. */
    async bring(edits, photos) {
      await this.load("*");
      if (!this.db) throw new Refusal(`nothing can be kept here: ${this.why}`);
      const known = new Set(this.journal.edits().map(key)), gone = new Set(this.journal.erased.keys());
      for (const edit of edits) if (edit.field === "~erased") gone.add(edit.rec);
      const here = new Map(this.journal.edits().map((edit) => [key(edit), JSON.stringify(edit)]));
      for (const edit of edits) if (here.has(key(edit)) && here.get(key(edit)) !== JSON.stringify(edit)) throw new Refusal(`two different edits bear the name ${key(edit)}: one of the devices is a copy of the other`);
      const fresh = edits.filter((edit) => !known.has(key(edit)) && (edit.field === "~erased" || !gone.has(edit.rec)));
      const byRecord = new Map();
      for (const edit of fresh) { if (!byRecord.has(edit.rec)) byRecord.set(edit.rec, []); byRecord.get(edit.rec).push(edit); }
      const pictures = (rec) => photos.filter(([of]) => of === rec && !gone.has(rec)).map(([, name, bytes]) => [name, bytes]);
      const kindOf = (rec, list) => (list[0].field === "~erased" ? "~erased" : (list.find((edit) => edit.field === "~kind") || {}).text || (this.journal.records.get(rec) || {}).kind || "");
      const list = [...byRecord].map(([rec, some]) => ({ act: { rec, kind: kindOf(rec, some), at: Math.max(...some.map((edit) => edit.at)), first: key(some[0]), edits: JSON.stringify(some) }, photos: pictures(rec), erase: some[0].field === "~erased" }));
      // Photographs of records that are here already, but whose picture is not.
      const loose = photos.filter(([rec]) => !byRecord.has(rec) && this.journal.records.has(rec)).map(([rec, name, bytes]) => ({ rec, name, bytes }));
      if (list.length || loose.length) {
        try { await this.write(list, loose); } catch (error) { throw new Refusal(`${reason(error)}: nothing of the file was kept, and nothing that was here is lost`); }
      }
      for (const edit of fresh) this.journal.take(edit);
      if (list.length) this.dispatchEvent(new CustomEvent("wrote", { detail: list }));
      if (this.channel) this.channel.postMessage({ acts: list.map((one) => one.act) });
      this.dispatchEvent(new CustomEvent("news", { detail: new Set(fresh.map((edit) => edit.rec)) }));
      this.changed();
      return fresh.length;
    }
    async picture(rec, name) {
      const near = this.photos.get(`${rec}/${name}`);
      if (near) return near;
      await this.ready;
      try { return ((await done(this.db.transaction("photos").objectStore("photos").get([rec, name]))) || {}).bytes || null; } catch { return null; }
    }
    /* Every photograph, kept or not: [record, name, bytes]. */
    async pictures() {
      const out = new Map([...this.photos].map(([place, bytes]) => { const [rec, name] = place.split("/"); return [place, [rec, name, bytes]]; }));
      try { for (const one of await done(this.db.transaction("photos").objectStore("photos").getAll())) out.set(`${one.rec}/${one.name}`, [one.rec, one.name, one.bytes]); } catch { /* those in memory go out */ }
      return [...out.values()].sort((a, b) => (`${a[0]}/${a[1]}` < `${b[0]}/${b[1]}` ? -1 : 1));
    }
    /* "kept", "writing", or "not kept" with the reason. */
    get status() { return { is: this.why ? "not kept" : this.queue.length ? "writing" : "kept", why: this.why, waiting: this.queue.length, lost: this.lost }; }
    changed() { this.dispatchEvent(new Event("status")); }
  }
  window.almanacKeeper = new Keeper();
})();
