/* The copy on this device. Files lie under their digests, in one store for each address, so that two handbooks on one host
   leave each other alone. None is put there, or given out, that is not the file of an edition, byte for byte.
   The first edition may be read while it is still coming. A newer one is fetched beside it, and waits until it is here whole
   and the reader takes it. The build puts its own words in place of the three names below. */
const EDITION = "__EDITION__";
const FILES = __FILES__;
const TYPES = __TYPES__;
const SCOPE = registration.scope;
const STORE = "almanac " + SCOPE;
const NAMES = Object.keys(FILES);
const DAY = 24 * 3600 * 1000;
const TURNS = [0, 1000, 4000, 10000]; // ms before each turn at what is missing
const STALL = 15000; // ms without a byte
const GIVE_UP = 12; // failures in a row: the rest is not asked for in this turn
const COSTLY = 10 * 60 * 1000; // ms before a host that gives other bytes is asked again unbidden

const pause = (ms) => new Promise((done) => setTimeout(done, ms));
const store = () => caches.open(STORE);
const standing = async () => ((await caches.has(STORE)) ? store() : null); // looking never makes a store that was taken off
const key = (digest) => SCOPE + "kept/" + digest;
const address = (name) => SCOPE + name.split("/").map(encodeURIComponent).join("/");

/* ── what is right ── */

async function right(bytes, digest) {
  const found = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(found.subarray(0, 8), (byte) => byte.toString(16).padStart(2, "0")).join("") === digest;
}

/* The file of this edition out of what came, or null. A mark of byte order that a host put before it is taken off. */
async function proven(bytes, digest) {
  if (await right(bytes, digest)) return bytes;
  const head = new Uint8Array(bytes.slice(0, 3));
  if (head[0] !== 0xef || head[1] !== 0xbb || head[2] !== 0xbf) return null;
  const rest = bytes.slice(3);
  return (await right(rest, digest)) ? rest : null;
}

/* ── what is here ── */

async function missing() {
  const from = await standing();
  const here = new Set(from ? (await from.keys()).map((request) => request.url) : []);
  return NAMES.filter((name) => !here.has(key(FILES[name])));
}

/* A file out of the store, read whole and proven; a wrong one is thrown out. */
async function kept(name) {
  const from = await standing();
  const found = from && (await from.match(key(FILES[name])));
  if (!found) return null;
  const bytes = await found.arrayBuffer().catch(() => new ArrayBuffer(0));
  if (await right(bytes, FILES[name])) return bytes;
  await from.delete(key(FILES[name]));
  return null;
}

/* Every file read back and proven; what is missing then. */
async function check() {
  for (const name of NAMES) await kept(name);
  return missing();
}

/* How the last run ended, for a worker that has slept since: {edition, at, why}. No `why` means that all was right. */
async function noted() {
  const found = await (await standing())?.match(key("notes"));
  const told = found ? await found.json().catch(() => ({})) : {};
  return told.edition === EDITION ? told : {};
}
const note = async (why) => (await store()).put(key("notes"), new Response(JSON.stringify({ edition: EDITION, at: Date.now(), why })));

/* ── what is fetched ── */

/* The bytes at an address, or why there are none. A line that says nothing for a while is given up. */
async function read(url, cache) {
  const stop = new AbortController();
  let clock = setTimeout(() => stop.abort(), STALL);
  try {
    const came = await fetch(url, { cache, signal: stop.signal });
    const parts = [];
    for (const reader = came.body.getReader(); ; ) {
      const { done, value } = await reader.read();
      clearTimeout(clock);
      if (done) break;
      parts.push(value);
      clock = setTimeout(() => stop.abort(), STALL);
    }
    return { bytes: await new Blob(parts).arrayBuffer(), why: came.ok ? "changed" : "error" };
  } catch {
    return { bytes: null, why: "silent" };
  } finally {
    clearTimeout(clock);
  }
}

/* Fetch one file into the store: "" or why not. The second address passes by a stale copy on the way. */
async function take(name) {
  let why = "";
  for (const [url, cache] of [[address(name), "no-cache"], [address(name) + "?" + FILES[name], "reload"]]) {
    const came = await read(url, cache);
    const bytes = came.bytes && (await proven(came.bytes, FILES[name]));
    if (gone) return "silent";
    if (bytes) return (await store()).put(key(FILES[name]), new Response(bytes)).then(() => "", () => "full");
    why = came.why;
    if (why === "silent") break;
  }
  return why;
}

/* Stores of an earlier way of keeping, under this address: what is right in them need not be fetched. */
async function earlier() {
  const found = [];
  for (const name of await caches.keys()) {
    if (/^almanac-[0-9a-f]{16}$/.test(name) && (await (await caches.open(name)).match(SCOPE + "index.html"))) found.push(name);
  }
  return found;
}

async function adopt(left) {
  for (const old of await earlier()) {
    const from = await caches.open(old);
    for (const name of left) {
      const found = await from.match(address(name));
      const bytes = found && (await proven(await found.arrayBuffer(), FILES[name]));
      if (bytes) await (await store()).put(key(FILES[name]), new Response(bytes));
    }
  }
}

/* One turn at what is missing, six at a time; how many failed, by why. */
async function turn(names, changed) {
  const why = {};
  let row = 0;
  const queue = [...names];
  await Promise.all(Array.from({ length: 6 }, async () => {
    for (let name; row < GIVE_UP && !why.full && !gone && (name = queue.shift()); ) {
      const failed = await take(name);
      row = failed ? row + 1 : 0;
      if (failed) why[failed] = (why[failed] || 0) + 1;
      if (failed === "changed") changed[name] = (changed[name] || 0) + 1;
      if (!failed && --state.left % 10 === 0) tell();
    }
  }));
  return why;
}

const state = { edition: EDITION, newer: false, of: NAMES.length, left: NAMES.length, why: {}, names: [], busy: false };
let running = null;
let gone = false; // the reader took the copy off

async function run(look) {
  const before = await noted();
  const due = look || before.why || !(Date.now() - before.at < DAY);
  let left = due ? await check() : await missing();
  let why = {};
  if (left.length && !look && before.why?.changed && Date.now() - before.at < COSTLY) why = before.why;
  else if (left.length) {
    await adopt(left).catch(() => {});
    left = await missing();
    const changed = {};
    for (const wait of TURNS) {
      const asked = left.filter((name) => (changed[name] || 0) < 2);
      if (!asked.length || gone) break;
      Object.assign(state, { busy: true, left: left.length });
      tell();
      await pause(wait);
      if (wait) asked.sort(() => Math.random() - 0.5); // so that a few bad ones do not stand before the rest
      why = await turn(asked, changed);
      left = await check(); // a full disk may say yes and keep nothing
      if (why.full) break;
    }
    if (left.length && !Object.keys(why).length) why = { full: left.length };
  }
  if (!left.length) why = {};
  if (!gone && (due || left.length)) await note(left.length ? why : undefined).catch(() => {});
  if (!left.length && !state.newer) for (const old of await earlier()) await caches.delete(old);
  Object.assign(state, { busy: false, left: left.length, why, names: left.slice(0, 20) });
}

/* One run at a time, however many pages ask. */
function fill(look) {
  running ||= run(look)
    .catch(async () => Object.assign(state, { busy: false, left: await missing().then((left) => left.length, () => NAMES.length), why: { full: 1 } }))
    .finally(() => { running = null; })
    .then(tell);
  return running;
}

async function tell() {
  for (const page of await clients.matchAll({ includeUncontrolled: true })) if (page.url.startsWith(SCOPE)) page.postMessage({ almanac: SCOPE, ...state });
}

/* ── the worker's life ── */

addEventListener("install", (event) => {
  if (!registration.active) return; // the first: it fetches once a page asks, and may be read meanwhile
  state.newer = true;
  event.waitUntil(fill(false).then(() => { if (state.left) throw new Error("this edition is not here whole"); }));
});

addEventListener("activate", (event) => event.waitUntil((async () => {
  state.newer = false;
  const ours = new Set([key("notes"), ...NAMES.map((name) => key(FILES[name]))]);
  const from = await standing();
  for (const request of from ? await from.keys() : []) if (!ours.has(request.url)) await from.delete(request);
  await clients.claim();
})()));

addEventListener("message", (event) => {
  if (event.data === "take the new edition") skipWaiting();
  if (event.data === "keep" || event.data === "check") { gone = false; event.waitUntil(fill(event.data === "check")); }
  if (event.data === "leave") { gone = true; event.waitUntil(caches.delete(STORE)); }
});

/* ── reading ── */

const given = (name, bytes) => new Response(bytes, { headers: { "content-type": TYPES[name.slice(name.lastIndexOf(".") + 1)] || "application/octet-stream" } });
const not_here = () => new Response(
  `<!DOCTYPE html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Not on this device</title><h1>Not on this device</h1>
<p>There is no signal, and this page has not reached this device yet.</p><p><a href="${SCOPE}index.html">The first page</a></p></html>`,
  { status: 503, headers: { "content-type": "text/html; charset=utf-8" } });

async function give(request, name, elsewhere) {
  const bytes = await kept(name).catch(() => null);
  if (bytes) return elsewhere ? Response.redirect(address(name) + new URL(request.url).search) : given(name, bytes);
  return fetch(request).catch(() => (request.mode === "navigate" ? not_here() : Response.error()));
}

addEventListener("fetch", (event) => {
  const [path] = event.request.url.split(/[?#]/);
  if (event.request.method !== "GET" || !path.startsWith(SCOPE)) return;
  let asked;
  try { asked = decodeURIComponent(path.slice(SCOPE.length)); } catch { return; }
  const names = asked === "" || asked.endsWith("/") ? [asked + "index.html"] : [asked, asked + ".html", asked + "/index.html"]; // some hosts send readers to addresses without .html
  const name = names.find((one) => Object.hasOwn(FILES, one));
  if (name) event.respondWith(give(event.request, name, name !== asked && !asked.endsWith("/") && asked !== ""));
});
