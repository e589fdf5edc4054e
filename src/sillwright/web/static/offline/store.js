// What this browser keeps. One database for all tabs; what was written is on the disk before anybody says "kept".
//   entries  what people wrote and the server has not taken yet (id, person, state, kind, site, opening, …)
//   photos   what is known of a photo that waits (id, person, state, opening, shot, size, digest, sent, …)
//   bytes    the photo itself, an ArrayBuffer, by the same id
//   sites    sites as the server told them, by id (see offline/kept.py)
//   notes    small things by name: who is signed in, which device this is
import { openDB } from "../third/idb.js";

const NAME = "sillwright";
const VERSION = 1;
export const STRICT = { durability: "strict" };

let opened = null;

function upgrade(db) {
  for (const name of ["entries", "photos"]) {
    const store = db.createObjectStore(name, { keyPath: "id" });
    store.createIndex("opening", "opening");
    store.createIndex("at", "at");
  }
  db.createObjectStore("bytes");
  db.createObjectStore("sites");
  db.createObjectStore("notes");
}

// The database; opened once a page. Rejects where the browser keeps nothing (a private window of some browsers).
export function store() {
  opened ??= openDB(NAME, VERSION, {
    upgrade,
    blocking() { opened?.then((db) => db.close()); opened = null; }, // a newer version in another tab may go on
    terminated() { opened = null; },
  }).catch((error) => { opened = null; throw error; });
  return opened;
}

export async function note(name) {
  return (await store()).get("notes", name);
}

export async function keepNote(name, value) {
  const tx = (await store()).transaction("notes", "readwrite", STRICT);
  await Promise.all([tx.store.put(value, name), tx.done]);
}

// An id as the server takes it. randomUUID is there on HTTPS and localhost only, a page on a plain address has none.
export function freshId() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 15) | 64;
  bytes[8] = (bytes[8] & 63) | 128;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}
