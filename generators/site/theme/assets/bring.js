/* Scripts of this copy, fetched when they are first wanted: all at once, run in the order in which they are named, each once, and none that the page brought itself. */
(() => {
  "use strict";
  const own = document.currentScript.src, asked = new Map();
  // What a script leaves on the window: where it stands, the script has run.
  const THERE = {
    "journal.js": "almanacJournal", "keeper.js": "almanacKeeper", "clocks.js": "almanacClocks", "sets.js": "almanacSets", "kept.js": "almanacKept", "day.js": "almanacDayAnswers", "panel.js": "almanacPanel",
    "grammar.js": "almanacGrammar", "typed.js": "almanacTyped", "readings.js": "almanacReadings", "why.js": "almanacWhy", "own.js": "almanacOwn", "day/own.js": "almanacOwnFields",
  };
  const one = (name) => {
    if (THERE[name] && window[THERE[name]]) return Promise.resolve();
    if (!asked.has(name)) {
      asked.set(name, new Promise((done, failed) => {
        const script = document.createElement("script");
        script.src = new URL(name, own).href;
        script.async = false; // those that were asked for before it run before it
        script.onload = () => done();
        script.onerror = () => { asked.delete(name); failed(new Error(name)); };
        document.head.append(script);
      }));
    }
    return asked.get(name);
  };
  window.almanacBring = (...names) => Promise.all(names.map(one));
})();
