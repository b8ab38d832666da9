"use strict";
// The touch-up session. A clock is the moments that were tapped, kept on the phone at once: it goes on
// while the page is loaded anew or closed, and while the phone sleeps. The amount of the product is not
// kept: a page that was left shows it only after another check by a second person.

const SESSION = HERE + "session:", CLOCK = HERE + "clock:", LAST_SEEN = HERE + "clock-seen";
const KEPT_MS = 24 * 3600e3, SLIP_MS = 5000, SURE_MS = 5000, TICK_MS = 500;
const PAGE = randomName();
const doses = new Set(), ticking = new Map();
let shownSessions = "", shownClocks = "";

// A phone has two clocks. That of the day goes on while it sleeps, but can be set; the steady one cannot
// be set, but begins anew with each page and stands still in the sleep of some phones. Of what the two
// say the longer counts: a STOP comes rather too early than too late.
function moment() {
  return { wall: Date.now(), steady: performance.now(), page: PAGE };
}

function steadyMs(from, to) {
  return from.page === to.page ? to.steady - from.steady : 0;
}

function seconds(from, to) {
  const end = to || moment();
  return Math.max(end.wall - from.wall, steadyMs(from, end), 0) / 1000;
}

function wasSetBack(from) {
  const now = moment(), passed = now.wall - from.wall;
  return passed < -SLIP_MS || steadyMs(from, now) - passed > SLIP_MS;
}

// --- what is kept

function clockOf(key) {
  return read(key, { at: {} });
}

function clockKey(kept, fish) {
  return CLOCK + kept.on + ":" + kept.one.id + "|" + fish;
}

function keptSessions() {
  return keptUnder(SESSION).map((key) => [key, read(key, null)]).filter(([, kept]) => kept);
}

function newest(kept) {
  const clocks = kept.one.fish.map((fish) => clockOf(clockKey(kept, fish.id)));
  return Math.max(kept.began, ...clocks.flatMap((one) => Object.values(one.at).map((at) => at.wall || 0)));
}

function putAway(key, kept) {
  for (const name of [key, ...kept.one.fish.map((fish) => clockKey(kept, fish.id))]) drop(name);
}

// On opening: a session of which all was noted, or in which nothing was tapped for a day, is put away.
function tidyClocks() {
  const before = read(LAST_SEEN, 0), now = Date.now();
  for (const [key, kept] of keptSessions()) {
    const clocks = kept.one.fish.map((fish) => clockKey(kept, fish.id)).map((name) => [name, clockOf(name)]);
    if (clocks.every(([, one]) => isNoted(one)) || Math.abs(now - newest(kept)) > KEPT_MS) putAway(key, kept);
    else if (now < before - SLIP_MS)
      for (const [name, one] of clocks) if (one.at.in && !one.at.upright) keep(name, { ...one, doubt: true });
  }
}

// --- what is shown

function buildSessions() {
  const now = JSON.stringify(state.sessions);
  // A bath that is mixed stays as it is, whatever the plan says meanwhile.
  if (now === shownSessions || doses.size) return;
  shownSessions = now;
  $("sessions").replaceChildren(...state.sessions.map(session));
}

function session(one) {
  const section = make("section");
  section.append(make("h2", one.title));
  if (one.refused) {
    section.append(make("p", one.refused, "stop"));
    return section;
  }
  section.append(...one.notices.map((text) => make("p", text, "stop")));
  section.append(...one.sections.map(part));
  const dose = make("div");
  dose.append(secondPerson(one, dose));
  section.append(dose);
  return section;
}

function part(one) {
  const details = make("details"), list = make("ul");
  list.append(...one.lines.map((text) => make("li", text)));
  details.append(make("summary", one.title), list);
  return details;
}

function secondPerson(one, dose) {
  const form = make("form", "", "second"), told = make("p", "", "told"), button = make("button", say("check"));
  const asked = say("second").replace("{word}", one.word).replace("{target}", one.target);
  const inputs = {};
  form.append(make("p", asked));
  for (const [name, label] of [["litres", one.litres], ["strength", one.strength], ["target", say("target")]]) {
    if (!label) continue;
    const words = make("label"), input = make("input");
    input.inputMode = "decimal";
    input.autocomplete = "off";
    input.maxLength = 30;
    input.name = name;
    inputs[name] = input;
    words.append(make("span", label), input);
    form.append(words);
  }
  told.setAttribute("role", "status");
  form.append(button, told);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const typed = { job: one.id, litres: "", strength: "", target: "" };
    for (const [name, input] of Object.entries(inputs)) typed[name] = input.value.trim().replace(/^(\d+),(\d{1,2})$/, "$1.$2");
    try {
      const answer = await ask("bath", {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify(typed),
      });
      const found = answer.ok ? await answer.json() : { refused: say("closed") };
      if (!found.ok) {
        told.textContent = say("stopped") + ": " + found.refused;
        return;
      }
      doses.add(one.id);
      dose.replaceChildren(
        make("p", say("same").replace("{word}", found.word), "told"),
        ...found.sections.map((section) => Object.assign(part(section), { open: true })));
      keepSession(one, found.given);
      buildClocks();
    } catch {
      told.textContent = say("offline");
    }
  });
  return form;
}

// A bath that was checked once more goes on with the clocks that run in it.
function keepSession(one, given) {
  const { id, title, stop, limits, fish } = one;
  const key = SESSION + state.on + ":" + id, before = read(key, null);
  const more = before ? before.one.fish.filter((left) =>
    !fish.some((now) => now.id === left.id) && clockOf(clockKey(before, left.id)).at.in) : [];
  keep(key, {
    on: state.on, began: before ? before.began : Date.now(), given,
    one: { id, title, stop, limits, fish: [...more, ...fish] },
  });
}

// Once the amount is shown the clocks follow it; a page that was loaded anew has them first.
function buildClocks() {
  $("sessions")[doses.size ? "after" : "before"]($("clocks"));
  const kept = keptSessions(), now = JSON.stringify([kept, say("running")]);
  if (now === shownClocks) return;
  shownClocks = now;
  ticking.clear();
  $("clocks").replaceChildren(...kept.map(([key, one]) => clocksOf(key, one)));
  tickAll();
}

function clocksOf(key, kept) {
  const section = make("section"), away = make("button", say("put_away"), "quiet");
  let sure = 0;
  away.type = "button";
  away.addEventListener("click", () => {
    if (Date.now() - sure > SURE_MS) {
      sure = Date.now();
      away.textContent = say("put_away_sure");
      setTimeout(() => { away.textContent = say("put_away"); }, SURE_MS);
    } else {
      putAway(key, kept);
      buildClocks();
    }
  });
  section.append(
    make("h2", say("running").replace("{title}", kept.one.title)),
    ...kept.one.stop.map((text) => make("p", text, "caution")),
    ...kept.one.fish.map((fish) => fishClock(kept, fish)),
    away);
  return section;
}

// A touch-up that was refused may be noted again, with the minutes of its clock.
function isNoted({ at, tap }) {
  return Boolean(at.noted) && howOf(tap) !== "refused";
}

function offered(clock) {
  const { at } = clock;
  if (isNoted(clock)) return [];
  if (at.upright) return ["session"];
  if (at.clean) return ["upright"];
  if (at.out) return ["wetted", "clean"];
  if (at.rolled) return ["cloth"];
  return at.in ? ["rolled", "cloth"] : ["in"];
}

function fishClock(kept, fish) {
  const box = make("div", "", "card"), face = make("p", "", "clock"), stop = make("p", "", "stop");
  const doubt = make("p", "", "caution"), buttons = make("div", "", "buttons");
  const key = clockKey(kept, fish.id), { limits, stop: rules } = kept.one;
  stop.setAttribute("role", "alert");
  stop.hidden = doubt.hidden = true;

  function step(name) {
    const clock = clockOf(key), now = moment();
    if (!offered(clock).includes(name)) return; // tapped already in another window of this phone
    // The tap's name is drawn with the clock, so that a touch-up tapped again after a reload counts once.
    clock.tap ||= randomName();
    if (name === "session") tapped(minutesOf(clock.at), [fish.id], fish.name, kept.one.id + "|clock|" + fish.id, { name: clock.tap });
    if (name === "session") clock.at.noted = now;
    else if (name === "cloth") clock.at.out = clock.at.air = now;
    else clock.at[name === "wetted" ? "air" : name] = now;
    keep(key, clock);
  }

  function minutesOf(at) {
    const noted = { ...kept.given };
    if (at.rolled) noted.minutes_to_balance_lost = (seconds(at.in, at.rolled) / 60).toFixed(1);
    noted.minutes_to_recovery = (seconds(at.out, at.upright) / 60).toFixed(1);
    for (const name of ["minutes_to_balance_lost", "minutes_to_recovery"])
      if (Number(noted[name]) <= 0) delete noted[name];
    return noted;
  }

  let offers = null;
  function offer(clock) {
    const names = offered(clock), now = names.join();
    if (now === offers) return;
    offers = now;
    buttons.replaceChildren(...names.map((name) => {
      const button = make("button", say(name));
      button.type = "button";
      button.setAttribute("aria-label", say(name) + ": " + fish.name);
      button.addEventListener("click", () => { step(name); tickAll(); });
      return button;
    }));
  }

  ticking.set(key, () => {
    const clock = clockOf(key), { at, tap, doubt: doubted } = clock, alarms = [], lines = [];
    if (at.in && at.rolled && seconds(at.in, at.rolled) < limits.fast_s) alarms.push(rules[0]);
    if (at.in && !at.out) {
      lines.push(say("bath") + " " + minutes(seconds(at.in)));
      if (seconds(at.in) >= limits.bath_s) alarms.push(rules[2]);
    }
    if (at.air && !at.clean) {
      lines.push(say("air") + " " + minutes(seconds(at.air)));
      if (seconds(at.air) >= limits.air_s) alarms.push(rules[3]);
    }
    if (at.out && !at.upright) {
      lines.push(say("recovery") + " " + minutes(seconds(at.out)));
      if (seconds(at.out) >= limits.vet_s) alarms.push(rules[5]);
      else if (seconds(at.out) >= limits.alarm_s) alarms.push(rules[4]);
    }
    offer(clock);
    face.textContent = at.noted ? say(howOf(tap)) : lines.join(" \u00b7 ");
    const running = at.in && !at.upright;
    doubt.textContent = running && (doubted || wasSetBack(at.in)) ? say("set_back") : "";
    doubt.hidden = !doubt.textContent;
    const text = alarms.length && running ? say("stopped") + ": " + alarms.join(" ") : "";
    if (stop.textContent !== text) {
      stop.textContent = text;
      stop.hidden = !text;
      if (text && navigator.vibrate) navigator.vibrate([400, 200, 400]);
    }
    return text ? fish.name : "";
  });
  box.append(make("h3", fish.name), face, doubt, stop, buttons);
  return box;
}

// The line at the top stays in view: it names whose clock has passed a limit.
function tickAll() {
  const names = [...ticking.values()].map((tick) => tick()).filter(Boolean);
  const text = names.length ? say("stopped") + ": " + names.join(", ") : "";
  if ($("alarm").textContent !== text) $("alarm").textContent = text;
  $("alarm").hidden = !text;
}

function howOf(tap) {
  if (queued().some(([, one]) => one.tap === tap)) return "kept";
  return (told().find((one) => one.tap === tap) || { how: "noted" }).how;
}

function minutes(seconds) {
  const whole = Math.floor(seconds);
  return Math.floor(whole / 60) + ":" + String(whole % 60).padStart(2, "0");
}

function leaveClocks() {
  if (ticking.size) keep(LAST_SEEN, Date.now());
}

addEventListener("pagehide", leaveClocks);
document.addEventListener("visibilitychange", () => { document.hidden ? leaveClocks() : tickAll(); });
addEventListener("storage", () => { buildClocks(); tickAll(); });
addEventListener("DOMContentLoaded", () => { tidyClocks(); buildClocks(); });
setInterval(tickAll, TICK_MS);
