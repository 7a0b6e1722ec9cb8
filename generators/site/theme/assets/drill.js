/* A drill judged: the trainee's readings, the mark of the list, and the words for both. Pure: Node loads it, and a test holds it to studies/marks.py.
   almanacDrill.judge(drill, readings, aim, teeth) -> { figure, passed }; .read(text) -> { readings, problem }; .told(drill, text, aim, teeth) -> { state, words }. */
(() => {
  "use strict";
  const inNode = typeof module === "object";
  const HAIR = 1e-9;
  const between = (wet, teeth) => { const above = teeth.filter((tooth) => tooth > wet + HAIR); return above.length ? (wet + Math.min(...above)) / 2 : wet; };
  const judge = (drill, readings, aim = NaN, teeth = []) => {
    const { how, limit } = drill, none = { figure: NaN, passed: false };
    if (!readings.length || !readings.every(Number.isFinite) || (how.startsWith("off") && !Number.isFinite(aim)) || (how === "off-share" && aim <= 0)) return none;
    const values = how === "combed" ? readings.map((one) => between(one, teeth)) : readings;
    const sum = values.reduce((all, one) => all + one, 0), mean = sum / values.length;
    if (how === "count") return { figure: sum, passed: sum >= limit - HAIR };
    let figure = mean;
    if (["spread", "spread-share", "combed"].includes(how)) {
      if (values.length < 2 || (how !== "spread" && mean <= 0)) return none;
      figure = Math.sqrt(values.reduce((all, one) => all + (one - mean) ** 2, 0) / (values.length - 1)) * (how === "spread" ? 1 : 100 / mean);
    } else if (how === "off") figure = Math.abs(mean - aim);
    else if (how === "off-share") figure = Math.abs(mean / aim - 1) * 100;
    return { figure, passed: figure <= limit + HAIR };
  };
  /* Figures with blanks, semicolons or new lines between them; a comma is read as everywhere on this device. */
  const read = (text, typed) => {
    const readings = [];
    for (const word of text.trim().split(/[\s;]+/).filter(Boolean)) {
      const found = typed(word.replace(/,$/, ""), "1");
      if (found.value === null || !found.single) return { readings: [], problem: `“${word.slice(0, 20)}” is no figure that can be read. Write one such as 18.5, with a point.` };
      readings.push(found.value);
    }
    return { readings, problem: "" };
  };
  const shown = (value) => Number(value.toPrecision(3)).toString().replace("-", "−");
  const SAID = { count: "right", spread: "scatter", "spread-share": "scatter", combed: "scatter", most: "mean", off: "off the aim", "off-share": "off the aim" };
  /* { state: "empty" | "wait" | "passed" | "missed", words, figure }. Too few readings are not judged, nor are too many: choosing among them is no mark. */
  const told = (drill, text, aimText, teeth, typed) => {
    if (!text.trim()) return { state: "empty", words: "" };
    const found = read(text, typed), aimed = read(aimText || "", typed);
    if (found.problem || aimed.problem) return { state: "wait", words: `– ${found.problem || aimed.problem}` };
    if (found.readings.length !== drill.wanted) return { state: "wait", words: `– ${drill.wanted} ${drill.wanted === 1 ? "figure is" : "figures are"} wanted; here ${found.readings.length === 1 ? "is 1" : `are ${found.readings.length}`}.` };
    if (drill.how === "count" && !(Number.isInteger(found.readings[0]) && found.readings[0] >= 0 && found.readings[0] <= drill.tries)) return { state: "wait", words: `– A whole number from 0 to ${drill.tries} is wanted.` };
    if (!drill.how.startsWith("off") && found.readings.some((one) => one < 0) && drill.how !== "spread") return { state: "wait", words: "– A figure under nought is none that was read." };
    if (drill.how.startsWith("off") && aimed.readings.length !== 1) return { state: "wait", words: "– The aim is wanted too: one figure." };
    const { figure, passed } = judge(drill, found.readings, aimed.readings[0], teeth);
    if (!Number.isFinite(figure)) return { state: "wait", words: "– These figures cannot be judged: look at them again." };
    const unit = drill.unit ? ` ${drill.unit}` : "", limit = drill.how === "count" ? `${shown(drill.limit)} of ${drill.tries} at the least` : `${shown(drill.limit)}${unit} at most`;
    const first = drill.how === "count" ? `${shown(figure)} of ${drill.tries} right` : `${SAID[drill.how]} ${shown(figure)}${unit}`;
    return { state: passed ? "passed" : "missed", figure, words: `${passed ? "✓ Passed" : "✗ Not yet"}: ${first}; the mark is ${limit}.${passed ? "" : " Show it again, slower; measure again tomorrow."}` };
  };
  const made = { judge, read, told };
  if (inNode) module.exports = made; else window.almanacDrill = made;
})();
