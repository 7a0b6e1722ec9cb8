/* Only in `almanac serve`: asks the server whether there is a newer build, and shows it. */
(() => {
  "use strict";
  const here = document.currentScript;
  const epoch = Number(here.dataset.epoch);
  let asked = null;
  const ask = () => {
    asked = new AbortController();
    fetch(new URL(`/livereload/${epoch}/${Date.now()}`, location.href), {signal: asked.signal, cache: "no-store"})
      .then((answer) => answer.text())
      .then((text) => { if (Number(text) > epoch) location.reload(); else ask(); })
      .catch((error) => { if (error.name !== "AbortError") setTimeout(ask, 1000); });
  };
  addEventListener("beforeunload", () => asked && asked.abort());
  ask();
})();
