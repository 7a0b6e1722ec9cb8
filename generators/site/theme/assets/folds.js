/* A link to a folded section opens it. */
(() => {
  "use strict";
  const open = () => {
    let target = null;
    try { target = document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch { /* an address that nobody wrote */ }
    for (let fold = target && target.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    if (target) target.scrollIntoView();
  };
  addEventListener("hashchange", open);
  if (location.hash) open();
})();
