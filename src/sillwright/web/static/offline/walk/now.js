// What the page of a walk stands on: the site as it is kept here with what waits, and who writes. Every writing goes
// through `write`: it is on the disk before anybody is told.
import { addAll, entries, person, site as kept } from "../outbox.js";
import { store } from "../store.js";
import { send } from "../sync.js";
import { takeBack } from "./undo.js";
import { say, site, today } from "./words.js";

export const now = { told: null, who: null, waiting: [], photos: [], awake: null, heard: "", online: navigator.onLine, trouble: "" };

// Read everything anew. Answers whether anything differs from before.
export async function load() {
  now.who = await person();
  now.told = await kept(site);
  const who = now.who?.id;
  now.waiting = (await entries(who)).filter((each) => each.site === site);
  now.photos = (await (await store()).getAll("photos")).filter((each) => each.site === site && each.person === who);
  const stamp = JSON.stringify([who, now.told?.site, now.told?.openings, now.waiting.map(stampOf), now.photos.map(stampOf)]);
  const changed = stamp !== now.stamp;
  now.stamp = stamp;
  return changed;
}

const stampOf = ({ id, state }) => [id, state];

export const doors = () => [...(now.told?.openings ?? [])].sort((one, other) => one.position - other.position);
export const doorAt = (id) => now.told?.openings.find((each) => each.id === id) ?? null;
export const photosAt = (id) => now.photos.filter((each) => each.opening === id);
export const onlyHere = (id) => now.waiting.filter((each) => each.opening === id || each.id === id).length + photosAt(id).length;

// Who writes about which door, today.
export const about = (door) => ({ site, opening: door.id, by: now.who.name, on: today() });

const draftOf = (door, name) => `walk ${now.who?.id} ${door} ${name}`;

// What is typed and not kept yet stays on this device.
export const draft = (door, name) => localStorage.getItem(draftOf(door, name)) ?? "";
export function keepDraft(door, name, text) {
  if (text) localStorage.setItem(draftOf(door, name), text);
  else localStorage.removeItem(draftOf(door, name));
}

const status = document.getElementById("status");
const undo = document.getElementById("undo");
let last = [];

export function tellStatus(words, entriesToUndo = []) {
  status.textContent = words;
  last = entriesToUndo;
  undo.hidden = !last.length;
}

const drawn = new Set();
export const onDrawn = (run) => drawn.add(run);
export async function redraw() {
  await load();
  for (const run of drawn) run();
}

// Keep entries, draw what they come to, and say so with a way back. Answers with what was kept, or nothing.
export async function write(made, words) {
  try {
    const keptNow = await addAll(made);
    await redraw();
    tellStatus(words, keptNow);
    send();
    return keptNow;
  } catch (error) {
    tellStatus(error.message === "signed-out" ? say("signedOut") : say("full"));
    return null;
  }
}

undo.addEventListener("click", async () => {
  const [wanted, words] = [last, status.textContent];
  tellStatus("");
  try {
    const done = await takeBack(wanted);
    await redraw();
    tellStatus(done ? `${words} ${say("undone")}` : say("notUndone"));
    send();
  } catch {
    tellStatus(say("full"), wanted);
  }
});
