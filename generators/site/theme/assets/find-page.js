/* Draws what the search found: for each page its question, the first sentence of its answer, and its name. Text only ever goes in as text. */
(() => {
  "use strict";
  const MORE = 5; // shown at once on a small screen; the rest behind a key
  window.almanacFound = (box, base) => {
    const find = window.almanacFind(window.almanacSearchPages, window.MiniSearch);
    const meta = document.querySelector("#alm-found .md-search-result__meta"), list = document.querySelector("#alm-found ol"), worked = document.querySelector("#alm-found .alm-figured");
    const made = (name, kind, text) => { const one = document.createElement(name); if (kind) one.className = kind; if (text) one.textContent = text; return one; };
    const row = (page) => {
      const item = made("li", "md-search-result__item"), link = made("a", "md-search-result__link alm-found");
      link.href = new URL(page.at, base).href;
      link.append(made("strong", "alm-found-question", page.question || page.title));
      if (page.answer) link.append(made("span", "alm-found-answer", page.answer));
      if (page.question && page.question !== page.title) link.append(made("span", "alm-found-page", page.title));
      item.append(link);
      return item;
    };
    const draw = () => {
      const text = box.value.trim();
      window.almanacFindNumbers(text, worked, base, find);
      if (!text) { list.replaceChildren(); meta.textContent = "Ask in your own words, with numbers and units if you have them."; return; }
      const pages = find.search(text, !/\s$/.test(box.value), window.almanacFigures.lean(window.almanacFigures(text)));
      list.replaceChildren(...pages.map(row));
      [...list.children].slice(MORE).forEach((item) => { item.hidden = pages.length > MORE + 1; });
      if (pages.length > MORE + 1) {
        const more = made("button", "md-button alm-found-more", `${pages.length - MORE} more pages`), item = made("li");
        more.type = "button";
        more.addEventListener("click", () => { const next = list.children[MORE].querySelector("a"); item.remove(); [...list.children].forEach((one) => { one.hidden = false; }); next.focus(); });
        item.append(more);
        list.append(item);
      }
      meta.textContent = pages.length ? `${pages.length} ${pages.length === 1 ? "page" : "pages"}, the likeliest first` : "No page has these words. Try others, or one of the ways below.";
    };
    box.addEventListener("input", draw);
    draw();
  };
})();
