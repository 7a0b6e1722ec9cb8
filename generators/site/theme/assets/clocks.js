/* Clocks: several at once, kept on this device as the moment they end, so that a closed page loses none. */
(() => {
  "use strict";
  const KEY = "almanac-clocks", MINUTE = 60000, MOST = 40;
  const good = (one) => one && typeof one === "object" && typeof one.name === "string" && Number.isFinite(one.start) && Number.isFinite(one.minutes) && one.minutes > 0;
  const read = () => { try { const found = JSON.parse(localStorage.getItem(KEY)); return Array.isArray(found) ? found.filter(good).slice(0, MOST) : []; } catch { return []; } };
  const write = (clocks) => { try { localStorage.setItem(KEY, JSON.stringify(clocks)); return true; } catch { return false; } };
  const left = (clock) => clock.start + clock.minutes * MINUTE - Date.now();
  const span = (milliseconds) => {
    const whole = Math.floor(Math.abs(milliseconds) / 1000), hours = Math.floor(whole / 3600), minutes = Math.floor(whole / 60) % 60, seconds = whole % 60;
    return hours >= 48 ? `${Math.floor(hours / 24)} d ${hours % 24} h` : `${hours ? `${hours} h ` : ""}${String(minutes).padStart(hours ? 2 : 1, "0")} min ${String(seconds).padStart(2, "0")} s`;
  };
  const bar = document.getElementById("alm-clock-bar");
  const page = document.querySelector(".alm-clocks");
  let drawn = "";

  const draw = () => {
    const clocks = read().sort((a, b) => left(a) - left(b)), due = clocks.filter((clock) => left(clock) <= 0);
    if (bar) {
      bar.hidden = due.length === 0;
      const told = due.map((clock) => clock.name).join(", ");
      const words = bar.querySelector("span");
      if (words.textContent !== told) words.textContent = told; // a status speaks once, not each second
    }
    if (!page) return;
    const list = page.querySelector(".alm-running");
    const key = clocks.map((clock) => `${clock.name}/${clock.start}/${clock.minutes}`).join("|");
    if (key !== drawn) {
      drawn = key;
      list.replaceChildren(...clocks.map((clock) => {
        const item = document.createElement("li"), name = document.createElement("strong"), time = document.createElement("span"), ends = document.createElement("span"), stop = document.createElement("button");
        name.textContent = clock.name;
        time.className = "alm-big-time";
        ends.textContent = `until ${new Date(clock.start + clock.minutes * MINUTE).toLocaleString([], { weekday: "short", hour: "2-digit", minute: "2-digit" })}`;
        stop.type = "button";
        stop.textContent = "Stop it";
        stop.setAttribute("aria-label", `Stop the clock ${clock.name}`);
        stop.addEventListener("click", () => { write(read().filter((one) => one.start !== clock.start || one.name !== clock.name)); draw(); });
        item.append(name, time, ends, stop);
        return item;
      }));
      page.querySelector(".alm-none-running").hidden = clocks.length > 0;
    }
    clocks.forEach((clock, place) => {
      const rest = left(clock), item = list.children[place];
      item.querySelector(".alm-big-time").textContent = rest > 0 ? span(rest) : `✕ over by ${span(rest)}`;
      item.classList.toggle("alm-due", rest <= 0);
    });
  };

  if (page) {
    const told = page.querySelector(".alm-told");
    page.querySelector(".alm-clock-keys").hidden = false;
    page.querySelector(".alm-live-off").hidden = true;
    const begin = (name, minutes) => {
      if (!(minutes > 0) || minutes > 60 * 24 * 400) { told.textContent = "– Give it minutes, more than none."; return; }
      const clocks = read();
      if (clocks.length >= MOST) { told.textContent = `✕ ${MOST} clocks run already: stop one first.`; return; }
      told.textContent = write([...clocks, { name: name.slice(0, 60), start: Date.now(), minutes }]) ? `✓ ${name}: running.` : "✕ Not kept: this device has no room. Set another clock.";
      draw();
    };
    const name = page.querySelector("#alm-clock-name"), minutes = page.querySelector("#alm-clock-minutes");
    const figure = () => Number(minutes.value.replace(",", ".").trim() || NaN);
    for (const key of page.querySelectorAll("[data-minutes]")) key.addEventListener("click", () => { name.value = key.dataset.name; minutes.value = key.dataset.minutes; begin(name.value, figure()); });
    page.querySelector(".alm-clock-start").addEventListener("click", () => begin(name.value.trim() || "Clock", figure()));
    window.addEventListener("storage", draw);
  }
  draw();
  setInterval(() => { if (!document.hidden && (page || bar)) draw(); }, 1000);
  document.addEventListener("visibilitychange", draw);
})();
