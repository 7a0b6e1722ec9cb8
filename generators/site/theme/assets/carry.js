/* Records of the first edition, which lay one by one in localStorage and in files of their own, told again as edits. The same record gives the
   same edits on every device, whenever it is carried over, so that nothing comes twice. */
(() => {
  "use strict";
  const inNode = typeof module === "object";
  const { Refusal, checked, want } = inNode ? require("./journal.js") : window.almanacJournal;
  const sha256 = inNode ? require("./digest.js").sha256 : window.almanacSha256;
  const MARK = "sprayers-almanac-records", KINDS = ["job", "log", "recipe", "care", "signoff"];
  const NAME = /^[a-z][a-z0-9-]{0,59}$/, ID = /^[a-z0-9][a-z0-9-]{0,79}$/, MOMENT = /^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d)\.\d{3}Z$/;
  const plain = (value) => Boolean(value) && typeof value === "object" && !Array.isArray(value);
  const short = (text, count) => sha256(new TextEncoder().encode(text)).slice(0, count);

  const texts = (value, where) => {
    want(plain(value), `${where}: wanted names and texts`);
    for (const [name, text] of Object.entries(value)) want(NAME.test(name) && typeof text === "string", `${where}: wanted a name and a text, came ${JSON.stringify(name).slice(0, 40)}`);
    return Object.entries(value);
  };
  /* Edits of one record of the first edition; `units(kind, block, field, system)` is the unit that stood beside a field. Refusal where it is none. */
  const edits = (record, where, units = (..._) => "") => {
    want(plain(record) && typeof record.id === "string" && ID.test(record.id), `${where}: wanted an id of small letters, digits and hyphens`);
    want(Object.keys(record).every((part) => ["id", "kind", "system", "made", "changed", "fields", "lines"].includes(part)), `${where}: a part that no record has`);
    want(KINDS.includes(record.kind), `${where}: a kind of record that this handbook does not know`);
    want(["metric", "us"].includes(record.system), `${where}: wanted metric or us units`);
    for (const moment of ["made", "changed"]) want(typeof record[moment] === "string" && MOMENT.test(record[moment]), `${where}: wanted the moment it was ${moment}`);
    want(plain(record.lines), `${where}: wanted its lines`);
    const dev = `o${short(JSON.stringify(record), 13)}`, out = [];
    const when = `${MOMENT.exec(record.changed)[1]}+00:00`; // that edition kept the hour of Greenwich, and no zone
    const write = (row, field, text, unit = "") => out.push(checked({ dev, n: out.length + 1, at: out.length + 1, rec: record.id, row, field, text, unit, when, prev: [] }));
    const rowOf = (block, place) => `o${short(`${record.id}/${block}/${place}`, 13)}`;
    write("", "~kind", record.kind);
    for (const [field, text] of texts(record.fields, where)) if (text) write("", field, text, units(record.kind, "", field, record.system));
    for (const [block, rows] of Object.entries(record.lines)) {
      want(NAME.test(block) && Array.isArray(rows), `${where}: lines that no record has`);
      rows.forEach((line, place) => {
        const row = rowOf(block, place);
        write(row, "~block", block);
        for (const [field, text] of texts(line, `${where}, ${block} ${place + 1}`)) {
          // A surface named its paint by its place; from now on by its name, so that taking one out moves no other.
          const paints = record.kind === "job" && block === "surfaces" && field === "paint" ? (record.lines.paints || []).length : 0;
          const named = /^[1-9]\d*$/.test(text) && Number(text) <= paints ? rowOf("paints", Number(text) - 1) : text;
          if (text) write(row, field, named, units(record.kind, block, field, record.system));
        }
      });
    }
    return out;
  };
  /* Clocks of the first edition: a list of { name, start, minutes }. */
  const clocks = (list) => (Array.isArray(list) ? list : []).filter((one) => plain(one) && typeof one.name === "string" && Number.isFinite(one.start) && one.minutes > 0).flatMap((one) => {
    const rec = `clock-${short(JSON.stringify([one.name, one.start, one.minutes]), 13)}`, dev = `o${short(rec, 13)}`;
    const when = `${new Date(one.start).toISOString().slice(0, 19)}+00:00`;
    return [["~kind", "clock"], ["name", one.name], ["start", String(one.start)], ["minutes", String(one.minutes)]].map(([field, text], place) => checked({ dev, n: place + 1, at: place + 1, rec, row: "", field, text, unit: "", when, prev: [] }));
  });
  /* A file of the first edition as edits, or null where it is no such file. */
  const file = (text, units) => {
    let found;
    try { found = JSON.parse(text); } catch { return null; }
    if (!plain(found) || !(MARK in found)) return null;
    want(found[MARK] === 1 && Object.keys(found).length === 2 && Array.isArray(found.records), "the file is damaged, or another edition made it");
    const ids = found.records.map((record) => (record || {}).id);
    want(new Set(ids).size === ids.length, "the file is damaged: it holds one record twice");
    return found.records.flatMap((record, place) => edits(record, `record ${place + 1}`, units));
  };

  /* The record of one exercise sheet is called after its edition, its number and its trainee: the same on every device. */
  const quizName = (edition, sheet, trainee) => `quiz-${short(JSON.stringify([edition, sheet, trainee]), 13)}`;
  /* Answers of one sheet that lay in localStorage under its edition and number: { place: { figure, choice } }. Nobody's name stood beside them. */
  const quiz = (name, text) => {
    const found = /^almanac-quiz:(.+):(\d{1,3})$/.exec(name);
    want(found, `${name.slice(0, 40)}: wanted the answers of a sheet`);
    const given = JSON.parse(text);
    want(plain(given), `${name}: wanted answers by their place`);
    const rec = quizName(found[1], found[2], ""), dev = `o${short(`${name} ${text}`, 13)}`, out = [];
    const write = (field, said) => out.push(checked({ dev, n: out.length + 1, at: out.length + 1, rec, row: "", field, text: said, unit: "", when: "2026-01-01T00:00:00+00:00", prev: [] }));
    write("~kind", "quiz");
    write("edition", found[1]);
    write("sheet", found[2]);
    for (const [place, one] of Object.entries(given)) {
      want(/^\d{1,2}$/.test(place) && plain(one) && Number.isFinite(one.figure) && ["", "go", "wait"].includes(one.choice), `${name}: an answer that cannot be read`);
      write(`answer-${place}`, `${one.figure} ${one.choice}`.trim());
    }
    return out;
  };

  const made = { edits, clocks, file, quiz, quizName, Refusal };
  if (inNode) module.exports = made; else window.almanacCarry = made;
})();
