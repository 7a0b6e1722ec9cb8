/* Draws what the search found: for each page its question, the first sentence of its answer, and its name. Text only ever goes in as text. */
(() => {
  "use strict";
  const MORE = 5; // shown at once on a small screen; the rest behind a key
  window.almanacFound = (box, base) => {
    const find = window.almanacFind(window.almanacSearchPages, window.MiniSearch);
    const meta = document.querySelector("#alm-found .md-search-result__meta"), list = document.querySelector("#alm-found ol"), worked = document.querySelector("#alm-found .alm-figured");
    const made = (name, kind, text) => { const one = document.createElement(name); if (kind) one.className = kind; if (text) one.textContent = text; return one; };
    const rows = new Map(); // page → its row, made once: what a page says in the list is the same for every question
    const row = (page) => {
      if (rows.has(page.at)) return rows.get(page.at);
      const item = made("li", "md-search-result__item"), link = made("a", "md-search-result__link alm-found");
      link.href = new URL(page.at, base).href;
      link.append(made("strong", "alm-found-question", page.question || page.title));
      if (page.answer) link.append(made("span", "alm-found-answer", page.answer));
      if (page.question && page.question !== page.title) link.append(made("span", "alm-found-page", page.title));
      item.append(link);
      rows.set(page.at, item);
      return item;
    };
    let pages = [];
    const rest = made("li"), more = made("button", "md-button alm-found-more");
    more.type = "button";
    more.addEventListener("click", () => { rest.replaceWith(...pages.slice(MORE).map(row)); row(pages[MORE]).querySelector("a").focus(); });
    rest.append(more);
    const say = (text) => { if (meta.textContent !== text) meta.textContent = text; };
    const draw = () => {
      const text = box.value.trim();
      window.almanacFindNumbers(text, worked, base, find);
      pages = text ? find.search(text, !/\s$/.test(box.value), window.almanacFigures.lean(window.almanacFigures(text))) : [];
      const folded = pages.length > MORE + 1, shown = (folded ? pages.slice(0, MORE) : pages).map(row);
      if (folded) { more.textContent = `${pages.length - MORE} more pages`; shown.push(rest); }
      if (shown.length !== list.children.length || shown.some((item, place) => item !== list.children[place])) list.replaceChildren(...shown);
      if (!text) say("Ask in your own words, with numbers and units if you have them.");
      else say(pages.length ? `${pages.length} ${pages.length === 1 ? "page" : "pages"}, the likeliest first` : "No page has these words. Try others, or one of the ways below.");
    };
    box.addEventListener("input", draw);
    draw();
  };
})();
