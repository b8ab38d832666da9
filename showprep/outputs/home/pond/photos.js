"use strict";
// A look with a photo. The photo is made small here, which also leaves behind what the camera wrote beside
// the picture, and is kept in the browser's own store under the name of its tap until that is answered for.

const LONGEST_SIDE = 1600, QUALITY = 0.85, LARGEST_PHOTO = 2900000, YOUNG_MS = 60000;
const drafts = new Map(), keeping = new Set(); // by the place on the page
let store = null;

// --- what is kept on the phone

function opened() {
  store ||= new Promise((done, failed) => {
    const asked = indexedDB.open(HERE, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("photos");
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => { store = null; failed(asked.error); };
  });
  return store;
}

async function inStore(how, work) {
  const change = (await opened()).transaction("photos", how, { durability: "strict" });
  const asked = work(change.objectStore("photos"));
  return new Promise((done, failed) => {
    change.oncomplete = () => done(asked.result);
    change.onabort = change.onerror = () => failed(change.error);
  });
}

async function keptPhoto(name, again = true) {
  try {
    const kept = await inStore("readonly", (photos) => photos.get(name));
    return kept ? await asText(kept.blob) : undefined;
  } catch {
    store = null;
    return again ? keptPhoto(name, false) : undefined;
  }
}

function asText(blob) {
  return new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result.slice(reader.result.indexOf(",") + 1));
    reader.onerror = () => failed(reader.error);
    reader.readAsDataURL(blob);
  });
}

function dropPhoto(name) {
  inStore("readwrite", (photos) => photos.delete(name)).catch(() => {});
}

// What a page that died left behind: photos of no tap.
async function tidyPhotos() {
  try {
    const names = await inStore("readonly", (photos) => photos.getAllKeys());
    for (const name of names) {
      const kept = await inStore("readonly", (photos) => photos.get(name));
      const waits = queued().some(([, tap]) => tap.tap === name);
      if (!waits && kept && Date.now() - kept.at > YOUNG_MS) dropPhoto(name);
    }
  } catch {
    // A browser that keeps nothing has nothing to tidy.
  }
}

// The photo is on the phone before its tap is: a tap never waits for a photo that is nowhere.
async function withPhoto(place, go) {
  const draft = drafts.get(place);
  if (!draft) {
    go();
    return;
  }
  if (keeping.has(place)) return;
  keeping.add(place);
  const name = randomName();
  try {
    await inStore("readwrite", (photos) => photos.put({ blob: draft.blob, at: Date.now() }, name));
    go({ name, photo: true });
    leaveOut(place);
  } catch {
    draft.told = say("photo_not_kept");
    drawPhotos(place);
  } finally {
    keeping.delete(place);
  }
}

// --- taking one

async function made(file) {
  const picture = await createImageBitmap(file); // upright, as the camera says
  const share = Math.min(1, LONGEST_SIDE / Math.max(picture.width, picture.height));
  const canvas = make("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * share));
  canvas.height = Math.max(1, Math.round(picture.height * share));
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  for (const quality of [QUALITY, 0.6, 0.3]) {
    const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", quality));
    if (blob && blob.size <= LARGEST_PHOTO) return blob;
  }
  throw new Error("no photo");
}

async function taken(place, file) {
  try {
    const blob = await made(file);
    leaveOut(place);
    drafts.set(place, { blob, url: URL.createObjectURL(blob), told: "" });
  } catch {
    leaveOut(place);
    drafts.set(place, { told: say("photo_unread") });
  }
  drawPhotos(place);
  if (!drafts.get(place).blob) drafts.delete(place);
}

function leaveOut(place) {
  const draft = drafts.get(place);
  drafts.delete(place);
  if (draft && draft.url) URL.revokeObjectURL(draft.url);
  drawPhotos(place);
}

// --- what is shown

function camera(row, place) {
  const box = make("div"), words = make("label", "", "camera"), input = make("input");
  const shown = make("div"), told = make("p", "", "told");
  box.dataset.photos = place;
  told.setAttribute("role", "status");
  input.type = "file";
  input.accept = "image/*";
  input.setAttribute("capture", "environment");
  input.setAttribute("aria-label", say("photo") + ": " + row.who);
  input.addEventListener("change", () => {
    const [file] = input.files;
    if (file) taken(place, file).then(() => { input.value = ""; });
  });
  words.append(make("span", say("photo")), input);
  box.append(shown, told, words);
  box.draw = () => {
    const draft = drafts.get(place), photos = make("div", "", "photos");
    if (row.photo) photos.append(figure("photo?of=" + row.photo.key, row.photo.told, row.photo.alt));
    if (draft && draft.url) photos.append(figure(draft.url, say("photo_new"), say("photo_new")));
    shown.replaceChildren(...(photos.childElementCount ? [photos] : []));
    if (draft && draft.blob) {
      const out = make("button", say("photo_out"), "quiet");
      out.type = "button";
      out.setAttribute("aria-label", say("photo_out") + ": " + row.who);
      out.addEventListener("click", () => leaveOut(place));
      shown.append(out);
    }
    told.textContent = draft ? draft.told : "";
    words.firstChild.textContent = say(draft && draft.blob ? "photo_again" : "photo");
  };
  box.draw();
  return box;
}

function figure(address, text, alt) {
  const one = make("figure"), picture = make("img");
  picture.loading = "lazy";
  picture.src = address;
  picture.alt = alt;
  one.append(picture, make("figcaption", text, "faint"));
  return one;
}

// The page may have been drawn anew while the camera was open.
function drawPhotos(place) {
  for (const box of document.querySelectorAll("[data-photos]")) if (box.dataset.photos === place) box.draw();
}

addEventListener("DOMContentLoaded", tidyPhotos);
