/* The file that is taken out, and read again: first a line with the SHA-256 of all that follows, then one edit, photograph or unreadable part on each line.
   A file in which one letter changed is refused whole. */
(() => {
  "use strict";
  const inNode = typeof module === "object";
  const { Refusal, checked, want } = inNode ? require("./journal.js") : window.almanacJournal;
  const sha256 = inNode ? require("./digest.js").sha256 : window.almanacSha256;
  const carry = inNode ? require("./carry.js") : window.almanacCarry;
  const MARK = "sprayers-almanac-journal", EDITION = 1;
  const head = (digest) => `{"${MARK}":${EDITION},"sha256":"${digest}"}`;
  const PHOTO = /^[0-9a-f]{64}$/, BASE64 = /^[A-Za-z0-9+/]+={0,2}$/;
  const bytesOf = (base64) => Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));

  /* `edits` in their order, `photos` as [record, name, JPEG in base64], `unread` as texts that no edition could read. */
  const write = (edits, photos, unread, made) => {
    const lines = [JSON.stringify({ made }), ...edits.map((edit) => JSON.stringify({ edit })), ...photos.map(([rec, name, jpeg]) => JSON.stringify({ photo: { rec, name, jpeg } })), ...unread.map((text) => JSON.stringify({ unread: text }))];
    const body = `${lines.join("\n")}\n`;
    return `${head(sha256(new TextEncoder().encode(body)))}\n${body}`;
  };

  /* What a file holds: { made, edits, photos, unread }, or a Refusal with its reason. Bytes, not text: a digest is of bytes. */
  const read = (bytes, units) => {
    const end = bytes.indexOf(10), first = new TextDecoder("utf-8", { ignoreBOM: true }).decode(end < 0 ? bytes.subarray(0, 400) : bytes.subarray(0, end));
    const found = /^\{"sprayers-almanac-journal":(\d{1,6}),"sha256":"([0-9a-f]{64})"\}$/.exec(first);
    if (!found) {
      want(!first.includes(MARK), "the file is damaged: its first line was changed");
      const old = carry.file(new TextDecoder().decode(bytes), units);
      want(old, "the file cannot be read: it is damaged, or something else made it");
      return { made: "", edits: old, photos: [], unread: [] };
    }
    want(Number(found[1]) === EDITION, "the file was made by another edition: get the newest edition of this handbook first");
    const body = bytes.subarray(end + 1);
    want(sha256(body) === found[2], "the file is damaged: something in it changed since it was taken out");
    const out = { made: "", edits: [], photos: [], unread: [] };
    new TextDecoder().decode(body).split("\n").forEach((line, place, all) => {
      if (line === "" && place === all.length - 1) return;
      let one;
      try { one = JSON.parse(line); } catch { throw new Refusal(`line ${place + 2} cannot be read`); }
      want(one && typeof one === "object" && Object.keys(one).length === 1, `line ${place + 2}: a part that this edition does not know`);
      if (typeof one.made === "string") out.made = one.made;
      else if (one.edit) out.edits.push(checked(one.edit));
      else if (one.photo) {
        const { rec, name, jpeg } = one.photo;
        want(typeof rec === "string" && PHOTO.test(name) && BASE64.test(jpeg) && sha256(bytesOf(jpeg)) === name, `line ${place + 2}: a photograph that is damaged`);
        out.photos.push([rec, name, jpeg]);
      } else if (typeof one.unread === "string") out.unread.push(one.unread);
      else throw new Refusal(`line ${place + 2}: a part that this edition does not know`);
    });
    const names = new Map();
    for (const edit of out.edits) {
      const name = `${edit.dev}.${edit.n}`, text = JSON.stringify(edit);
      want(!names.has(name) || names.get(name) === text, `two different edits bear the name ${name}: one of the devices is a copy of the other`);
      names.set(name, text);
    }
    return out;
  };

  const made = { write, read, bytesOf };
  if (inNode) module.exports = made; else window.almanacTakeout = made;
})();
