/* A watch for the cup: one big key in place of the key pad. Pressed as the finger leaves the hole, and again at the first break of the stream; then the seconds stand in the line, to be kept or timed again. */
(() => {
  "use strict";
  const { key } = window.almanacPanel;
  window.almanacWatch = (input, pad) => {
    let begun = 0, beat = null;
    const seconds = () => (performance.now() - begun) / 1000;
    const big = key("", () => {
      if (!beat) {
        begun = performance.now();
        beat = setInterval(() => { if (big.isConnected) big.lastChild.textContent = `${Math.floor(seconds())} s`; else { clearInterval(beat); beat = null; } }, 200);
        big.firstChild.textContent = "Press at the first break of the stream";
        return;
      }
      clearInterval(beat);
      beat = null;
      input.value = seconds().toFixed(1);
      big.replaceWith(pad);
      start.textContent = "Again";
      const keep = pad.querySelector(".alm-key-keep");
      if (keep) keep.focus({ preventScroll: true });
    }, "alm-key alm-watch");
    big.append(document.createElement("span"), document.createElement("strong"));
    const start = key("Time it", () => {
      if (!pad.isConnected) return;
      big.firstChild.textContent = "Press as you let go of the cup";
      big.lastChild.textContent = "";
      input.value = "";
      pad.replaceWith(big);
      big.focus({ preventScroll: true });
    });
    return start;
  };
})();
