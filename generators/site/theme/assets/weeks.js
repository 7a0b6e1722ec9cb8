/* Six weeks after: what this trainee's own logs hold, week by week from the day of the sign-off. It counts entries; what they are worth, a foreman says. */
(() => {
  "use strict";
  const keeper = window.almanacKeeper, records = window.almanacRecords, make = window.almanacMake, trainee = window.almanacTrainee;
  const out = document.querySelector(".alm-weeks");
  const DAY = 24 * 3600 * 1000, dayOf = (text) => (/^\d{4}-\d\d-\d\d$/.test(text) ? Date.parse(`${text}T12:00:00Z`) : NaN);
  const plural = (number, word) => `${number} ${word}${number === 1 ? "" : "s"}`;
  const filled = (log, block, field) => log.rows(block).filter((line) => !line.gone && log.text(line.row, field)).length;
  const show = () => {
    const now = trainee.open(), begun = now ? dayOf(now.text("", "date")) : NaN;
    out.hidden = !now;
    if (!now) return;
    const name = trainee.nameOf(now).trim().toLowerCase(), logs = records.live("log").filter((log) => log.text("", "operator").trim().toLowerCase() === name);
    const list = make("ul");
    for (let week = 1; week <= 6; week += 1) {
      const mine = logs.filter((log) => { const at = dayOf(log.text("", "date")) - begun; return at >= (week - 1) * 7 * DAY && at < week * 7 * DAY; });
      const sum = (of) => mine.reduce((all, log) => all + of(log), 0), less = mine.filter((log) => filled(log, "readings", "wet-film") < 3).length;
      list.append(make("li", mine.length ? `Week ${week}: ${plural(mine.length, "log")}, ${plural(sum((log) => filled(log, "conditions", "air-temperature")), "reading")} of the air, ${plural(mine.filter((log) => log.text("", "seconds")).length, "cup time")}, ${plural(sum((log) => filled(log, "readings", "wet-film")), "reading")} of the film${less ? ` (△ fewer than three in ${plural(less, "log")})` : ""}, ${plural(mine.filter((log) => log.text("", "faults")).length, "fault")} written down, ${plural(mine.filter((log) => log.text("", "incident")).length, "incident")}.` : `Week ${week}: – no log of theirs on this device.`));
    }
    out.replaceChildren(make("h2", `What the logs of ${trainee.nameOf(now)} hold`), make("p", Number.isFinite(begun) ? `Counted from ${now.text("", "date")}, the date on the sign-off, in logs that name this person as the one who sprayed.` : "– The sign-off needs a date to count from."), list);
  };
  document.addEventListener("almanac-trainee", show);
  (async () => { await records.begun; await keeper.load("log"); show(); })();
})();
