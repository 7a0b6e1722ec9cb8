/* Before a page goes to paper its links get their whole addresses: those of the site, or where in the folder they lie. */
(() => {
  "use strict";
  const here = document.currentScript.src;
  const root = here.slice(0, here.lastIndexOf("/assets/") + 1);
  addEventListener("beforeprint", () => {
    for (const link of document.querySelectorAll(".md-typeset a[href]")) {
      const whole = link.href.split("#")[0];
      link.dataset.address = location.protocol === "file:" && whole.startsWith(root) ? whole.slice(root.length) : whole;
    }
  });
})();
