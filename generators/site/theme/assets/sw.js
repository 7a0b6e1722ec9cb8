/* The whole handbook on the phone after one visit. One edition at a time: a new one is fetched whole, checked file by file
   against its digest, and waits until the reader takes it. The build puts the list of files in place of the two names below. */
const EDITION = "__EDITION__";
const FILES = __FILES__;
const STORE = "almanac-" + EDITION;

const hex = (bytes) => Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, "0")).join("").slice(0, 16);

/* A file of this edition: from an older store where its digest is the same, else from the network, and never a wrong one. */
async function whole(address, digest, old) {
  const url = new URL(address, registration.scope).href;
  const checked = async (answer) => {
    if (!answer || !answer.ok || answer.redirected) return null;
    const body = await answer.arrayBuffer();
    if (hex(await crypto.subtle.digest("SHA-256", body)) !== digest) return null;
    return new Response(body, { headers: { "content-type": answer.headers.get("content-type") || "application/octet-stream" } });
  };
  for (const store of old) {
    const kept = await checked(await store.match(url));
    if (kept) return kept;
  }
  const fresh = await checked(await fetch(url, { cache: "no-cache" }));
  if (!fresh) throw new Error("not the file of this edition: " + address);
  return fresh;
}

addEventListener("install", (event) => event.waitUntil((async () => {
  const names = (await caches.keys()).filter((name) => name.startsWith("almanac-") && name !== STORE);
  const old = await Promise.all(names.map((name) => caches.open(name)));
  const store = await caches.open(STORE);
  const left = Object.entries(FILES);
  try {
    await Promise.all(Array.from({ length: 6 }, async () => {
      for (let one; (one = left.pop()); ) await store.put(new URL(one[0], registration.scope).href, await whole(one[0], one[1], old));
    }));
  } catch (error) {
    await caches.delete(STORE);
    throw error;
  }
})()));

addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith("almanac-") && name !== STORE) await caches.delete(name);
  await clients.claim();
})()));

addEventListener("message", (event) => { if (event.data === "take the new edition") skipWaiting(); });

addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || !url.href.startsWith(registration.scope)) return;
  if (url.pathname.endsWith("/")) url.pathname += "index.html";
  url.search = url.hash = "";
  event.respondWith(caches.open(STORE).then((store) => store.match(url.href)).then((kept) => kept || fetch(event.request)));
});
