/* The days of a job, drawn: one line for each visit, what is done on it, and what waits for what. The list beside it says the same in words. */
(() => {
  "use strict";
  const make = window.almanacMake;
  const SVG = "http://www.w3.org/2000/svg";
  const svg = (tag, more, text) => {
    const part = document.createElementNS(SVG, tag);
    for (const [name, value] of Object.entries(more)) part.setAttribute(name, String(value));
    if (text !== undefined) part.textContent = text;
    return part;
  };
  const brief = (hours) => (hours < 0.1 ? "under 0.1" : hours.toFixed(1));
  const LEFT = 78, RIGHT = 8, WIDE = 640, HIGH = 60, HEAD = 22;

  /* Bars of one day in order: neighbours of the same kind are told together. */
  const days = (plan) => [...new Set(plan.bars.filter((bar) => bar.kind !== "wait").map((bar) => bar.day))].map((day) => ({ day, bars: plan.bars.filter((bar) => bar.day === day) }));

  const draw = (plan, left, called, dayName) => {
    const visits = days(plan), high = HEAD + visits.length * HIGH + 4, scale = (WIDE - LEFT - RIGHT) / left;
    const said = `${plan.visits} visits over ${plan.days} days. The list below says what is done on each.`;
    const root = svg("svg", { viewBox: `0 0 ${WIDE} ${high}`, class: "alm-days", role: "img", "aria-label": said });
    const at = (hours) => LEFT + Math.min(hours, left) * scale;
    for (let hour = 0; hour <= left; hour += 1) {
      root.append(svg("line", { x1: at(hour), x2: at(hour), y1: HEAD - 4, y2: high, class: "alm-days-hour" }));
      root.append(svg("text", { x: at(hour), y: HEAD - 8, class: "alm-days-axis", "text-anchor": "middle" }, `${hour} h`));
    }
    visits.forEach(({ day, bars }, place) => {
      const top = HEAD + place * HIGH;
      root.append(svg("text", { x: 2, y: top + 20, class: "alm-days-day" }, dayName(day)));
      let turn = 0;
      for (const bar of bars) {
        if (bar.kind === "wait") {
          const end = bar.until > day ? left : bar.end;
          root.append(svg("line", { x1: at(bar.start), x2: Math.max(at(bar.start) + 6, at(end)), y1: top + 17, y2: top + 17, class: "alm-days-wait" }));
          const late = at(bar.start) > WIDE / 2; // its words go to the left of where they would run out of the picture
          root.append(svg("text", { x: late ? WIDE - 2 : at(bar.start) + 3, y: top + (turn++ % 2 ? 53 : 41), class: "alm-days-word", "text-anchor": late ? "end" : "start" }, `↦ ${called(bar.what, true)}, ${brief(bar.end - bar.start)} h${bar.until > day ? `, till ${dayName(bar.until)}` : ""}`));
          continue;
        }
        const x = at(bar.start), width = Math.max(2, at(bar.end) - x);
        root.append(svg("rect", { x, y: top + 6, width, height: 22, class: bar.kind === "coat" ? "alm-days-coat" : "alm-days-work" }));
        if (bar.kind === "coat" && width > 40) root.append(svg("text", { x: x + 3, y: top + 21, class: "alm-days-in" }, called(bar.what)));
      }
    });
    return root;
  };

  const list = (plan, called, dayName) => {
    const out = make("ol", undefined, { className: "alm-days-list" });
    for (const { day, bars } of days(plan)) {
      const words = bars.map((bar) => (bar.kind === "wait" ? `then wait ${brief(bar.end - bar.start)} h: ${called(bar.what, true)}` : `${called(bar.what)} ${brief(bar.end - bar.start)} h`));
      const item = out.appendChild(make("li"));
      item.append(make("strong", `${dayName(day)}: `), `${words.join("; ")}.`);
    }
    return out;
  };

  window.almanacJobDays = { draw, list };
})();
