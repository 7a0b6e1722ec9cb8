/* Today's situation on every other page: fetched only where this device has one, or a page asks. `kept` says whether there is one; `ready` brings kit, paint,
   readings and the chain; `now` is the situation worked, the same that the first screen shows. */
(() => {
  "use strict";
  const own = document.currentScript.src;
  let kept = false, asked = null;
  try { kept = localStorage.getItem("almanac-today") !== null; } catch { /* nothing is kept here */ }
  const bring = window.almanacBring;
  const ready = () => {
    asked = asked || (() => {
      const sheet = document.createElement("link");
      sheet.rel = "stylesheet";
      sheet.href = new URL("day.css", own).href;
      document.head.append(sheet);
      // Scripts that the page itself brings run first, so that none runs twice.
      const drawn = document.readyState === "loading" || document.readyState === "interactive" ? new Promise((done) => { document.addEventListener("DOMContentLoaded", done); }) : Promise.resolve();
      return drawn.then(() => Promise.all([bring("sets.js", "kept.js"), bring("day.js"), bring("panel.js"), bring("grammar.js", "typed.js")])).then(() => window.almanacDayAnswers.chain()).then(() => bring("readings.js", "why.js")).then(() => { window.almanacKept.join(); });
    })().catch((error) => { asked = null; throw error; });
    return asked;
  };
  /* {situation, worked}, or null where nothing was ever kept. */
  const now = () => (!kept ? Promise.resolve(null) : ready().then(() => {
    const situation = window.almanacKept.situation();
    return window.almanacDayAnswers.ready(situation).then(() => ({ situation, worked: window.almanacDayAnswers.work(situation, window.almanacKept.system()) }));
  }));
  window.almanacAtHand = { kept, ready, now };
})();
