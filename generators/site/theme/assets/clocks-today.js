/* The clocks' page: keys that run to today's times (not the data sheet's), a ring that sounds and shakes while the page is awake, the screen kept lit, and a
   calendar file that rings when everything is closed. What each cannot do stands beside it. */
(() => {
  "use strict";
  const page = document.querySelector(".alm-clocks"), make = (tag, text, more = {}) => Object.assign(document.createElement(tag), { textContent: text, ...more });
  if (!page) return;
  const { begin, clocks } = window.almanacClocks, two = (number) => String(number).padStart(2, "0");
  const press = (words, done) => { const key = make("button", words, { type: "button" }); key.addEventListener("click", done); return key; };

  /* Today's times: what each clock is called, when it is over, and what it rests on. Minutes after midnight of `day`; `after` are minutes from the press. */
  const times = ({ situation, worked }, names) => {
    const { answers, out } = worked, paint = situation.words.coating ? names.coatings[situation.words.coating][0] : "", found = [], now = situation.numbers.now, coat = answers["next-coat"];
    const at = (name, minutes, why) => { if (Number.isFinite(minutes) && minutes > now) found.push({ name, at: minutes, why }); };
    if (answers.allowed.verdict === "stop") return found;
    if (coat.value !== undefined) { at(`Next coat: ${paint}`, coat.value, "touch it first"); at(`Last hour for the next coat: ${paint}`, out.held["coat-latest-at"].low, "then rub it down"); }
    if (answers["clean-by"].value !== undefined) at(`Out of the gun: ${paint}`, answers["clean-by"].until, "at its earliest");
    at("Air and surface: read again", answers.spray.until, "the oldest reading is good until then");
    const clear = answers["clear-after"];
    if (situation.words.place !== "outdoors" && clear.value !== undefined) found.push({ name: "Room: air until then", after: clear.value, why: "from the last stroke, fan on" });
    return found;
  };
  /* One event with an alarm, in local time without a zone: it rings when the wall clock where the phone is says so. */
  const escaped = (text) => text.replace(/[\\;,]/g, (one) => `\\${one}`).replace(/[\r\n]+/g, " ");
  const folded = (line) => { const out = []; const room = 60; let rest = line; while (rest.length > room) { out.push(rest.slice(0, room)); rest = ` ${rest.slice(room)}`; } return [...out, rest].join("\r\n"); };
  const calendar = (name, end, made, id) => {
    const stamp = (when) => `${when.getFullYear()}${two(when.getMonth() + 1)}${two(when.getDate())}T${two(when.getHours())}${two(when.getMinutes())}${two(when.getSeconds())}`;
    const utc = made.toISOString().slice(0, 19).replace(/[-:]/g, "");
    return ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Almanac//Clock//EN", "BEGIN:VEVENT", `UID:${id}@clock.invalid`, `DTSTAMP:${utc}Z`, `DTSTART:${stamp(end)}`, "DURATION:PT5M", `SUMMARY:${escaped(name)}`,
      "BEGIN:VALARM", "ACTION:DISPLAY", "TRIGGER:PT0S", `DESCRIPTION:${escaped(name)}`, "END:VALARM", "END:VEVENT", "END:VCALENDAR", ""].map(folded).join("\r\n");
  };
  window.almanacClockTimes = { times, calendar };

  /* Sound wants a press first, on this page; shaking wants a phone that can. */
  let sound = null, lit = null;
  const ring = () => {
    if (navigator.vibrate) navigator.vibrate([400, 200, 400, 200, 400]);
    if (!sound) return;
    for (const after of [0, 0.6, 1.2, 1.8]) {
      const tone = sound.createOscillator(), loud = sound.createGain();
      tone.frequency.value = 880;
      loud.gain.value = 0.5;
      tone.connect(loud).connect(sound.destination);
      tone.start(sound.currentTime + after);
      tone.stop(sound.currentTime + after + 0.35);
    }
  };
  window.almanacClocks.ring = ring;
  const told = make("p", "", { className: "alm-note", role: "status" });
  const loud = press("Ring: sound and shake", () => {
    if (!sound) { const Sound = window.AudioContext || window.webkitAudioContext; sound = Sound ? new Sound() : null; }
    loud.setAttribute("aria-pressed", "true");
    ring();
    told.textContent = `${sound ? "It sounds" : "This browser makes no sound"}${navigator.vibrate ? " and shakes" : "; it cannot shake"} while this page is open and the screen is on. Not when the page is closed, the phone sleeps, or it is set to silent: take the calendar file for that.`;
  });
  loud.setAttribute("aria-pressed", "false");
  const awake = async () => {
    if (lit) { await lit.release(); lit = null; }
    else try { lit = await navigator.wakeLock.request("screen"); lit.addEventListener("release", () => { lit = null; screen.setAttribute("aria-pressed", "false"); }); } catch { lit = null; told.textContent = "This browser does not keep the screen on (an address over https and enough battery are wanted): set the phone's own screen time."; }
    screen.setAttribute("aria-pressed", String(Boolean(lit)));
    if (lit) told.textContent = "The screen stays on while this page is in front. It costs battery, and stops when you leave the page.";
  };
  const screen = press("Keep the screen on", awake);
  screen.setAttribute("aria-pressed", "false");
  const file = press("Calendar file of all that run", () => {
    const running = clocks().filter((one) => !one.stopped && one.start + one.minutes * 60000 > Date.now());
    if (!running.length) { told.textContent = "– No clock runs."; return; }
    for (const one of running) window.almanacClocks.save(`clock-${one.rec}.ics`, calendar(one.name, new Date(one.start + one.minutes * 60000), new Date(), one.rec), "text/calendar");
    told.textContent = "Open the file with the phone's calendar: it rings there when this page is closed. It does not follow a clock that is stopped or changed here.";
  });
  const bar = make("p", "", { className: "alm-keys" });
  bar.append(loud, screen, file);
  page.querySelector(".alm-clock-keys").append(bar, told);

  if (!window.almanacAtHand || !window.almanacAtHand.kept) return;
  const part = make("div", "", { className: "alm-today-clocks" });
  page.querySelector(".alm-clock-keys").prepend(part);
  const draw = () => window.almanacAtHand.now().then((found) => {
    if (!found || !window.almanacKept.fresh()) { part.replaceChildren(); return; }
    const { clock } = window.almanacDayAnswers, day = found.situation.day;
    const list = times(found, window.almanacDayFacts.names), keys = list.map((one) => press(`${one.name}, ${one.at !== undefined ? clock(one.at, day) : `${Math.ceil(one.after)} min`}: ${one.why}`, () => {
      const now = new Date(), minutes = one.after !== undefined ? Math.ceil(one.after) : one.at - (now.getHours() * 60 + now.getMinutes() + now.getSeconds() / 60);
      begin(one.name, minutes);
    }));
    const row = make("p", "", { className: "alm-keys" });
    row.append(...keys);
    part.replaceChildren(...(keys.length ? [make("h2", "To today’s times"), row, make("p", "From today’s screen: its air, surface, paint and kit.", { className: "alm-note" })] : []));
    const paint = found.situation.words.coating && window.almanacDayFacts.names.coatings[found.situation.words.coating][0];
    for (const key of page.querySelectorAll(".alm-clock-keys [data-minutes]")) if (paint && key.dataset.name.endsWith(`: ${paint}`)) key.hidden = true; // the sheet's time is not today's
  }, () => {});
  draw();
})();
