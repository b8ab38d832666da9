"use strict";
// What is tapped is put on the phone first, each tap under a key of its own, and taken away only when
// the computer has answered for it. A tap keeps its random name, so that sent twice it counts once.

const HERE = "pond:" + location.pathname + ":";
const TAP = HERE + "tap:", LOG = HERE + "log", LABELS = HERE + "labels";
const MOST_TOLD = 40, RETRY_MS = 3000, LOOK_MS = 15000, SOON_MS = 1500, PATIENCE_MS = 10000;
const PHOTO_PATIENCE_MS = 60000;
let state = null, seen = 0, online = true, sending = false, timer = 0, lookTimer = 0, count = 0;
let daysOff = 0;

const $ = (id) => document.getElementById(id);
const say = (key) => (state ? state.labels : read(LABELS, {}))[key] || "";

function make(tag, text, classes) {
  const one = document.createElement(tag);
  if (text) one.textContent = text;
  if (classes) one.className = classes;
  return one;
}

// --- what is kept on the phone

// A browser that is told to keep nothing, or has no room left: then the page keeps it while it is open.
const unkept = new Map();

function read(key, other) {
  try {
    return JSON.parse(unkept.get(key) ?? localStorage.getItem(key)) ?? other;
  } catch {
    return other;
  }
}

function keep(key, value) {
  const text = JSON.stringify(value);
  try {
    localStorage.setItem(key, text);
    unkept.delete(key);
  } catch {
    unkept.set(key, text);
  }
}

function drop(key) {
  unkept.delete(key);
  try {
    localStorage.removeItem(key);
  } catch {
    // What cannot be kept cannot be there.
  }
}

function keptUnder(begin) {
  let keys = [];
  try {
    keys = Object.keys(localStorage);
  } catch {
    // As above.
  }
  return [...new Set([...keys, ...unkept.keys()])].filter((key) => key.startsWith(begin)).sort();
}

function queued() {
  return keptUnder(TAP).map((key) => [key, read(key, null)]).filter(([, tap]) => tap);
}

function told() {
  return read(LOG, []);
}

function tell(tap, how, text, mind) {
  const log = told().filter((one) => one.tap !== tap.tap);
  log.unshift({ ...tap, how, text, mind: mind && mind.length ? mind : undefined });
  keep(LOG, log.slice(0, MOST_TOLD));
}

function randomName() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (one) => one.toString(16).padStart(2, "0")).join("");
}

// The day by the phone's clock at the moment of the tap, put right by what the computer said the day
// was: a tap that is sent tomorrow is still of today.
function dayNumber(at) {
  return Math.round(Date.UTC(at.getFullYear(), at.getMonth(), at.getDate()) / 864e5);
}

function today() {
  return new Date((dayNumber(new Date()) + daysOff) * 864e5).toISOString().slice(0, 10);
}

// `more`: the name of the tap where it has one already, whether a photo is kept under that name, and the
// tap that this one takes back.
function tapped(given, fish, label, place, more = {}) {
  const { undo, name, photo } = more;
  const tap = { tap: name || randomName(), on: undo ? undo.on : today(), given, fish, undo: Boolean(undo) };
  count += 1;
  const key = TAP + String(Date.now()).padStart(15, "0") + String(count).padStart(5, "0") + tap.tap;
  keep(key, { ...tap, photo, label, place, undoes: undo ? undo.tap : "" });
  show();
  send();
}

// --- sending

async function ask(path, options, patienceMs = PATIENCE_MS) {
  const breakOff = new AbortController();
  const patience = setTimeout(() => breakOff.abort(), patienceMs);
  try {
    return await fetch(path, { ...options, signal: breakOff.signal, cache: "no-store" });
  } finally {
    clearTimeout(patience);
  }
}

async function send() {
  if (sending) return;
  sending = true;
  clearTimeout(timer);
  let left = false;
  for (const [key, tap] of queued()) {
    if (!(await sendOne(key, tap))) {
      left = true;
      break;
    }
  }
  sending = false;
  show();
  if (left) timer = setTimeout(send, RETRY_MS);
  else if (queued().length) send();
}

async function sendOne(key, tap) {
  const { tap: name, on, given, fish, undo } = tap;
  const photo = tap.photo ? await keptPhoto(name) : undefined;
  let answer, found;
  try {
    answer = await ask(photo ? "photo" : "tap", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ tap: name, on, given, fish, undo, photo }),
    }, photo ? PHOTO_PATIENCE_MS : PATIENCE_MS);
    found = answer.ok ? await answer.json() : null;
  } catch {
    online = false;
    return false;
  }
  online = true;
  if (!found && answer.status !== 400) {
    $("line").dataset.trouble = say(answer.status >= 500 ? "again" : "closed");
    return false;
  }
  delete $("line").dataset.trouble;
  if (found && !found.ok && found.again) {
    $("line").dataset.trouble = found.refused;
    return false;
  }
  if (found && found.ok) {
    const gone = tap.photo && !photo ? [say("photo_gone")] : [];
    tell(tap, tap.undo ? "undone" : "noted", found.told, [...gone, ...(found.mind || [])]);
    if (tap.undoes) {
      const before = told().find((one) => one.tap === tap.undoes);
      if (before) tell(before, "undone", before.text);
    }
    look(SOON_MS);
  } else {
    tell(tap, "refused", found ? found.refused : String(answer.status));
  }
  drop(key);
  if (tap.photo) dropPhoto(name);
  return true;
}

// --- what the computer says

function look(after) {
  clearTimeout(lookTimer);
  lookTimer = setTimeout(lookNow, after);
}

async function lookNow() {
  let next = LOOK_MS;
  try {
    const answer = await ask("state?seen=" + seen);
    if (answer.ok) {
      const found = await answer.json();
      online = true;
      if (found.planning) next = SOON_MS;
      if (!found.same) {
        state = found;
        seen = found.number;
        if (JSON.stringify(read(LABELS, null)) !== JSON.stringify(state.labels)) keep(LABELS, state.labels);
        daysOff = Math.round(Date.parse(state.on) / 864e5) - dayNumber(new Date());
        showAll();
      } else if (state) {
        state.planning = found.planning;
      }
      if (queued().length) send();
    } else {
      $("line").dataset.trouble = say("closed");
    }
  } catch {
    online = false;
    next = RETRY_MS;
  }
  show();
  look(next);
}

// --- what is shown

function showAll() {
  if (document.activeElement && document.activeElement.matches("input") && document.activeElement.value)
    document.activeElement.addEventListener("blur", () => setTimeout(showAll, 0), { once: true });
  else build();
}

function build() {
  $("season").textContent = state.season;
  document.title = state.season;
  $("day").textContent = state.day;
  $("stop").replaceChildren(
    ...[state.trouble, ...state.stop].filter(Boolean).map((one) => make("p", one, "stop")));
  $("groups").replaceChildren(...state.groups.map(group));
  if (!state.groups.length) $("groups").append(make("p", say("none")));
  $("no-photos").textContent = state.no_photos;
  buildSessions();
  buildClocks();
  $("shows").replaceChildren(...state.shows.map(showDay));
  $("looks").replaceChildren(...state.looks.map((one) => {
    const item = make("li", "", "card");
    item.append(...rowOf(one.row, "looks|" + one.row.buttons[0].fish[0], ""));
    item.append(...one.lines.map((text) => make("p", text, "faint")));
    return item;
  }));
  $("looking").hidden = !state.looks.length;
  $("waters").replaceChildren(...state.waters.map((one) => amount(one, state.reading, "water")));
  $("lengths").replaceChildren(...state.fish.map((one) => amount(one, state.length, "fish")));
  $("week").replaceChildren(...state.week.map((one) => make("li", one.day + ": " + one.jobs.join("; "))));
  show();
}

function group(one) {
  const section = make("section");
  const list = make("ul", "", "cards");
  list.append(...one.cards.map(card));
  section.append(make("h2", one.title), list);
  return section;
}

function card(one) {
  const item = make("li", "", one.late ? "card late" : "card");
  item.append(make("h3", one.title));
  const [first, ...more] = one.lines;
  if (first) item.append(make("p", first));
  item.append(...one.cautions.map((text) => make("p", text, "caution")));
  if (more.length) {
    const details = make("details");
    details.append(make("summary", "More"), ...more.map((text) => make("p", text)));
    item.append(details);
  }
  item.append(...one.rows.flatMap((row, at) => rowOf(row, one.id + "|" + at, one.title)));
  return item;
}

function showDay(one) {
  const section = make("section");
  const list = make("ul", "", "cards");
  for (const [at, row] of one.rows.entries()) {
    const item = make("li", "", "card");
    item.append(...rowOf(row, one.id + "|show|" + at, one.title));
    list.append(item);
  }
  section.append(make("h2", one.title), list);
  return section;
}

function rowOf(row, place, title) {
  const parts = [];
  if (row.who) parts.push(make("p", row.who, "who"));
  const buttons = make("div", "", "buttons");
  for (const one of row.buttons) {
    const button = make("button", one.label);
    const label = [one.label, row.who || title].join(": ");
    button.type = "button";
    button.setAttribute("aria-label", label);
    button.addEventListener("click", () => withPhoto(place, (more) =>
      tapped(one.given, one.fish, label, place + "|" + one.label, more)));
    button.dataset.place = place + "|" + one.label;
    buttons.append(button);
  }
  if (row.look && !state.no_photos) parts.push(camera(row, place));
  if (row.buttons.length) parts.push(buttons);
  if (row.field === "result") {
    parts.push(field(say("result"), "", "text", row.who, place + "|result",
      (text) => [{ ...row.given, result: text }, row.fish]));
  } else if (row.field) {
    parts.push(field(say("length"), state.length.unit, "decimal", row.who, place + "|length",
      (text) => [{ ...row.given, [state.length.key]: text }, row.fish]));
  }
  return parts;
}

function amount(one, what, about) {
  const item = make("li", "", "card");
  item.append(make("h3", one.name || one.id), make("p", one.last, "faint"));
  const of = (text) => about === "water"
    ? [{ water: one.id, [what.key]: text }, []]
    : [{ [what.key]: text }, [one.id]];
  item.append(field(what.unit, "", "decimal", one.name || one.id, about + "|" + one.id, of));
  return item;
}

function field(label, unit, mode, who, place, of) {
  const form = make("form"), input = make("input"), words = make("label"), button = make("button", say("save"));
  input.name = "value";
  input.inputMode = mode;
  input.autocomplete = "off";
  input.maxLength = 200;
  words.append(make("span", unit ? label + " (" + unit + ")" : label), input);
  button.setAttribute("aria-label", say("save") + ": " + who);
  input.setAttribute("aria-label", label + (unit ? " " + unit : "") + ": " + who);
  form.dataset.place = place;
  form.append(words, button);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    let text = input.value.trim();
    if (!text) return;
    if (mode === "decimal") text = text.replace(/^(-?\d+),(\d{1,2})$/, "$1.$2");
    input.value = "";
    input.blur();
    const [given, fish] = of(text);
    tapped(given, fish, who + ": " + text, place);
  });
  return form;
}

function show() {
  const waiting = queued();
  const line = [];
  line.push(online ? say("connected") : say("offline"));
  if (waiting.length) line.push(say("waiting").replace("{number}", waiting.length));
  if (online && state && state.planning) line.push(say("planning"));
  if (unkept.size) line.push(say("not_kept"));
  if ($("line").dataset.trouble) line.push($("line").dataset.trouble);
  const text = line.filter(Boolean).join(". ");
  if ($("line").textContent !== text) $("line").textContent = text;
  const log = told();
  mark(waiting, log);
  showRefused(log);
  $("log").replaceChildren(
    ...waiting.toReversed().map(([, tap]) => logLine({ ...tap, how: "kept", text: "" })),
    ...log.map(logLine));
}

// A tap that is on its way or noted stands where it was made.
function mark(waiting, log) {
  const on = today();
  const live = new Map();
  for (const one of log) if (one.on === on && one.how === "noted") live.set(one.place, say("noted"));
  for (const [, one] of waiting) if (!one.undo) live.set(one.place, say("kept"));
  for (const button of document.querySelectorAll("button[data-place]")) {
    const how = live.get(button.dataset.place);
    button.disabled = Boolean(how);
    const label = button.dataset.place.slice(button.dataset.place.lastIndexOf("|") + 1);
    button.textContent = how ? label + ": " + how : label;
  }
}

function showRefused(log) {
  const found = log.filter((one) => !one.read && (one.how === "refused" || one.mind));
  $("refused").replaceChildren(...found.map((one) => {
    const box = make("div", "", "card late"), button = make("button", say("dismiss"), "quiet");
    button.type = "button";
    button.addEventListener("click", () => {
      tell({ ...one, read: true }, one.how, one.text);
      show();
    });
    const head = one.how === "refused" ? say("refused") + ": " : "";
    const texts = one.how === "refused" ? [one.text] : one.mind;
    box.append(make("p", head + one.label, "told"), ...texts.map((text) => make("p", text)), button);
    return box;
  }));
}

function logLine(one) {
  const item = make("li", "", "card");
  const head = one.label + (one.photo ? ", " + say("with_photo") : "") + " (" + one.on + ")";
  item.append(make("p", head), make("p", one.text || say(one.how), "faint"));
  if (one.how === "noted") {
    const button = make("button", say("undo"), "quiet");
    button.type = "button";
    button.setAttribute("aria-label", say("undo") + ": " + one.label);
    button.disabled = queued().some(([, tap]) => tap.undoes === one.tap);
    button.addEventListener("click", () =>
      tapped(one.given, one.fish, say("undo") + ": " + one.label, "", { undo: one }));
    item.append(button);
  } else if (one.how === "refused" || one.how === "undone") {
    item.append(make("p", say(one.how), "told"));
  }
  return item;
}

addEventListener("online", () => { send(); look(0); });
document.addEventListener("visibilitychange", () => { if (!document.hidden) look(0); });
addEventListener("storage", show);
addEventListener("beforeunload", (event) => {
  if ([...unkept.keys()].some((key) => key.startsWith(TAP))) event.preventDefault();
});
addEventListener("DOMContentLoaded", () => lookNow());
