/* One thing (a situation, a kit, a paint, a recipe) as the part of a link behind #, which no request carries: JSON, made small, with four bytes of SHA-256 before it;
   in letters for a link, in digits for a square code. The digest shows damage and not the sender. No screen, no store; Node loads it too.
   A thing is { kind, edition, from, at, facts: { name: [text, unit or time] } }. Only names that this edition knows, only texts of their kind, at most so many. */
(() => {
  "use strict";
  const MOST_LINK = 4000, MOST_OPEN = 8192, MOST_FACTS = 80;
  class Refusal extends Error {}
  const refuse = (why) => { throw new Refusal(why); };
  const sha256 = typeof module === "object" ? require("./digest.js").sha256 : (bytes) => window.almanacSha256(bytes);
  /* Through a stream, and no further than `most` bytes: a small link that swells is cut off. */
  const through = async (bytes, stream, most) => {
    const writer = stream.writable.getWriter(), reader = stream.readable.getReader(), parts = [];
    writer.write(bytes).catch(() => {});
    writer.close().catch(() => {});
    let size = 0;
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      size += value.length;
      if (size > most) { reader.cancel().catch(() => {}); refuse("it holds too much"); }
      parts.push(value);
    }
    const out = new Uint8Array(size);
    parts.reduce((at, part) => { out.set(part, at); return at + part.length; }, 0);
    return out;
  };
  const proof = (bytes) => Uint8Array.from(sha256(bytes).slice(0, 8).match(/../g), (pair) => parseInt(pair, 16));
  const hex = (bytes) => [...bytes].map((one) => one.toString(16).padStart(2, "0")).join("");

  const pack = async ({ kind, edition, from, at, facts }, digits = false) => {
    const plain = new TextEncoder().encode(JSON.stringify([kind, edition, from, at, facts]));
    if (plain.length > MOST_OPEN) refuse("it is too much for a link: take out the file");
    const all = new Uint8Array([...proof(plain), ...await through(plain, new CompressionStream("deflate-raw"), MOST_OPEN)]);
    const packed = digits ? `#d1.${BigInt(`0x01${hex(all)}`)}` : `#b1.${btoa(String.fromCharCode(...all)).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "")}`;
    return packed.length > MOST_LINK ? refuse("it is too much for a link: take out the file") : packed;
  };
  /* No control, no turn of direction, nothing unseen, no half of a letter: such a text would not say what it shows. */
  const UNSEEN = /[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Cn}\u2028\u2029]/u;
  const plainText = (text, most) => typeof text === "string" && text.length <= most && !UNSEEN.test(text);
  const MOMENT = /^(\d{4}-\d\d-\d\dT\d\d:\d\d)?$/;
  /* `shapes`: kind → name → "number", "time", "words", or a list of what may be said. A thing to be SHOWN, and taken by a press: never kept by itself. */
  const unpack = async (hash, shapes) => {
    if (hash.length > MOST_LINK) refuse("it is too long");
    const found = /^#(?:b1\.([A-Za-z0-9_-]+)|d1\.([0-9]+))$/.exec(hash) || refuse("it is no link of ours, of a newer edition, or cut off");
    let all, plain, body;
    try {
      if (found[1]) all = Uint8Array.from(atob(found[1].replaceAll("-", "+").replaceAll("_", "/")), (letter) => letter.charCodeAt(0));
      else {
        let text = BigInt(found[2]).toString(16);
        if (text.length % 2) text = `0${text}`;
        if (!text.startsWith("01")) refuse("it is damaged");
        all = Uint8Array.from(text.slice(2).match(/../g) || [], (pair) => parseInt(pair, 16));
      }
      plain = await through(all.slice(4), new DecompressionStream("deflate-raw"), MOST_OPEN);
    } catch (error) { if (error instanceof Refusal) throw error; return refuse("it is damaged or cut off"); }
    if (proof(plain).some((byte, place) => byte !== all[place])) refuse("it is damaged");
    try { body = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(plain)); } catch { return refuse("it is damaged"); }
    if (!Array.isArray(body) || body.length !== 5) return refuse("it holds something else");
    const [kind, edition, from, at, facts] = body;
    if (typeof kind !== "string" || !Object.hasOwn(shapes, kind)) return refuse("it is of a kind that this edition does not know");
    if (!plainText(edition, 40) || !plainText(from, 40) || !plainText(at, 16) || !MOMENT.test(at) || !facts || typeof facts !== "object" || Array.isArray(facts)) return refuse("it holds something else");
    const out = Object.create(null), names = Object.keys(facts);
    if (names.length > MOST_FACTS) refuse("it holds too much");
    for (const name of names) {
      const value = facts[name];
      if (!Object.hasOwn(shapes[kind], name)) return refuse(`a fact that this edition does not know: ${name.slice(0, 30).replace(/[^a-z-]/g, "?")}`);
      const shape = shapes[kind][name], [text, more] = Array.isArray(value) && value.length === 2 ? value : [null, null];
      if (!plainText(text, 200) || !plainText(more, 20)) return refuse(`${name}: no such value`);
      if (Array.isArray(shape) ? !shape.includes(text) : shape === "number" ? !/[0-9½¼¾]/.test(text) : shape === "time" ? !(text === "none" || (text && MOMENT.test(text))) : text.trim() === "") return refuse(`${name}: no such value`);
      out[name] = [text, more];
    }
    return { kind, edition, from, at, facts: out };
  };
  const made = { pack, unpack, Refusal, MOST_LINK };
  if (typeof module === "object") module.exports = made; else window.almanacShare = made;
})();
