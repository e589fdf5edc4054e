// What waits here as files, for when it cannot be sent: another device hands them to the server (offline/taken_in.py).
import { asSent, device, entries, person } from "./outbox.js";
import { bytesOf } from "./photos.js";
import { store } from "./store.js";

const FORMAT = "sillwright-entries/1";
const LARGEST = 8_000_000; // signs of one file: the server reads 16 MB at most, and looks at each photo

// Everything of this person that waits or was refused, with `more` that could not be kept: [{name, blob}], the photos
// in as many files as they need.
export async function files(more = []) {
  const who = await person();
  const db = await store().catch(() => null);
  const mine = db ? await entries(who.id) : [];
  const photos = db ? (await db.getAll("photos")).filter((each) => each.person === who.id) : [];
  const saved = new Date().toISOString();
  const head = { format: FORMAT, person: { id: who.id, name: who.name }, device: device(), saved };
  const filled = [];
  let part = { entries: [...mine, ...more].map(asSent), photos: [], size: 0 };
  for (const photo of photos) {
    const text = JSON.stringify({ about: about(photo), bytes: inText(await bytesOf(photo.id)) });
    if (part.size && part.size + text.length > LARGEST) {
      filled.push(part);
      part = { entries: [], photos: [], size: 0 };
    }
    part.photos.push(text);
    part.size += text.length;
  }
  return [...filled, part].map((each, at) => ({ name: nameOf(saved, at), blob: blobOf(head, each) }));
}

const about = ({ person: _person, author: _author, state: _state, why: _why, ...rest }) => rest;

const nameOf = (saved, at) => `sillwright-entries-${saved.slice(0, 10)}${at ? `-${at + 1}` : ""}.json`;

function blobOf(head, { entries: listed, photos }) {
  const start = JSON.stringify({ ...head, entries: listed }).slice(0, -1);
  return new Blob([start, ',"photos":[', photos.join(","), "]}"], { type: "application/json" });
}

function inText(buffer) {
  const bytes = new Uint8Array(buffer ?? 0);
  let text = "";
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

// A link that saves a file.
export function link({ name, blob }) {
  const made = document.createElement("a");
  made.href = URL.createObjectURL(blob);
  made.download = name;
  made.textContent = name;
  made.className = "button";
  return made;
}

// Save everything at once, from a button.
export async function saveAll(more = []) {
  for (const each of await files(more)) {
    const made = link(each);
    made.click();
    setTimeout(() => URL.revokeObjectURL(made.href), 60_000);
  }
}
