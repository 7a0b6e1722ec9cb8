// Node: links packed, opened, spoiled and made in bad faith. node share_phone.js assets damaged
"use strict";
const path = require("path"), zlib = require("zlib"), crypto = require("crypto"), assets = path.resolve(process.argv[2]), count = Number(process.argv[3]);
const { pack, unpack, Refusal } = require(path.join(assets, "share.js"));
const SHAPES = { today: { kit: "words", "air-temperature": "number", place: ["room", "outdoors"], "mixed-at": "time" }, kit: { name: "words" } };
const THING = { kind: "today", edition: "2026-11-26", from: "Ben’s phone", at: "2026-11-26T10:30", facts: { kit: ["two-stage-tote", ""], "air-temperature": ["18–19 °C", "2026-11-26T10:30"], place: ["room", "2026-11-26T10:31"], "mixed-at": ["2026-11-26T09:00", ""] } };
const forged = (body, more = {}) => {
  const plain = Buffer.isBuffer(body) ? body : Buffer.from(typeof body === "string" ? body : JSON.stringify(body)), small = more.raw || zlib.deflateRawSync(plain);
  return `#b1.${Buffer.concat([crypto.createHash("sha256").update(plain).digest().subarray(0, 4), small]).toString("base64url")}`;
};
const body = (facts, kind = "today", edition = "1", from = "x", at = "") => [kind, edition, from, at, facts];
const hostile = {
  "another kind": forged(body({}, "stop")), "a kind of every object": forged(body({}, "constructor")), "a fact of every object": forged(body({ __proto__x: ["1", ""], constructor: ["1", ""] })), "a prototype": forged('["today","1","x","",{"__proto__":["1",""]}]'),
  "an unknown fact": forged(body({ "hard-stop": ["no", ""] })), "markup that is no word": forged(body({ place: ["<img src=x onerror=alert(1)>", ""] })), "a word that none may say": forged(body({ place: ["roof", ""] })),
  "a list": forged(body([["place", "room"]])), "a number for a text": forged(body({ place: [7, ""] })), "one part": forged(body({ place: ["room"] })), "three parts": forged(body({ place: ["room", "", ""] })),
  "turned letters": forged(body({ kit: ["two‮stage", ""] })), "unseen letters": forged(body({ kit: ["two​stage", ""] })), "a control": forged(body({ kit: ["two\u0000stage", ""] })), "half a letter": forged('["today","1","x","",{"kit":["\\ud800",""]}]'),
  "too long a text": forged(body({ kit: ["x".repeat(201), ""] })), "too long a sender": forged(body({}, "today", "1", "x".repeat(41))), "a moment that is none": forged(body({}, "today", "1", "x", "soon")), "no figure": forged(body({ "air-temperature": ["warm", ""] })),
  "a bomb": forged(body({}), { raw: zlib.deflateRawSync(Buffer.alloc(5e6)) }), "too many": forged(body(Object.fromEntries(Array.from({ length: 90 }, (_, place) => [`f${place}`, ["1", ""]])))),
  "no letters of ours": "#b1.%%%", "another mark": "#b2.AAAA", "nothing": "#b1.", "another address": "https://elsewhere.example/#b1.AAAA", "too long a link": `#b1.${"A".repeat(4001)}`, "digits that begin otherwise": "#d1.99", "not text": forged(Buffer.from([0xff, 0xfe, 0x00])), "four parts": forged(["today", "1", "x", {}]),
  "trailing": `${forged(body({ kit: ["a", ""] }))}&x=1`,
};
const refused = async (hash) => { try { await unpack(hash, SHAPES); return false; } catch (error) { if (error instanceof Refusal) return true; throw error; } };
(async () => {
  const out = { through: [], taken: [], lengths: {} };
  for (const digits of [false, true]) {
    const packed = await pack(THING, digits), again = await unpack(packed, SHAPES);
    out.through.push(JSON.stringify(again) === JSON.stringify(THING));
    out.lengths[digits ? "digits" : "letters"] = packed.length;
  }
  for (const [how, hash] of Object.entries(hostile)) if (!await refused(hash)) out.taken.push(how);
  const whole = await pack(THING);
  let seed = 3, passed = 0;
  const random = (most) => { seed = (seed * 1103515245 + 12345) % 2147483648; return Math.floor((seed / 2147483648) * most); };
  const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  for (let round = 0; round < count; round += 1) {
    const at = 4 + random(whole.length - 4), letter = letters[random(64)], spoilt = round % 5 ? whole.slice(0, at) + letter + whole.slice(at + 1) : whole.slice(0, at);
    if (spoilt === whole) continue;
    if (!await refused(spoilt)) { const again = JSON.stringify(await unpack(spoilt, SHAPES)); if (again !== JSON.stringify(THING)) passed += 1; }
  }
  out.passed = passed;
  out.hostile = Object.keys(hostile).length;
  process.stdout.write(JSON.stringify(out));
})();
