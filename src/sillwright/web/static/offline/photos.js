// Photos that wait on this device: each is sent by itself, in pieces, and goes on where it was interrupted.
import { freshId, store, STRICT } from "./store.js";

const PIECE = 256 * 1024;

// Keep a photo: what is known of it, and its bytes. When this resolves both are on the disk of the device.
export async function keepPhoto(about, bytes) {
  const tx = (await store()).transaction(["photos", "bytes"], "readwrite", STRICT);
  await Promise.all([tx.objectStore("photos").put(about), tx.objectStore("bytes").put(bytes, about.id), tx.done]);
}

export async function photosOf(opening) {
  return (await store()).getAllFromIndex("photos", "opening", opening);
}

export async function bytesOf(id) {
  return (await store()).get("bytes", id);
}

// A person sends a photo again that was refused: under a new id, for the server has said no to the old one. What names
// it here names the new one then. Answers with the new one, with nothing where the photo is gone.
export async function sendAgain(id) {
  const tx = (await store()).transaction(["photos", "bytes", "entries"], "readwrite", STRICT);
  const [photos, bytes, entries] = ["photos", "bytes", "entries"].map((name) => tx.objectStore(name));
  const [photo, content] = await Promise.all([photos.get(id), bytes.get(id)]);
  if (photo?.state !== "refused" || !content) return null;
  const made = { ...photo, id: freshId(), at: new Date().toISOString(), state: "waiting", why: "" };
  photos.delete(id);
  bytes.delete(id);
  photos.put(made);
  bytes.put(content, made.id);
  for (const copy of await photos.getAll()) if (copy.copy_of === id) photos.put({ ...copy, copy_of: made.id });
  for (const each of await entries.getAll()) {
    if (each.tries) continue; // it may have arrived as it is
    if (each.evidence === `photo ${id}`) entries.put({ ...each, evidence: `photo ${made.id}` });
    if (each.photo === id) entries.put({ ...each, photo: made.id });
  }
  await tx.done;
  return made;
}

const SENT = ["id", "opening", "site", "shot", "fact", "place", "x", "y", "copy_of", "marks", "words", "device", "taken", "size", "digest", "media"];

// Send what waits, oldest first. One that is refused holds up no other. Answers with the sites that changed.
export async function sendPhotos(who, post) {
  const touched = new Set();
  const all = await (await store()).getAll("photos");
  const wait = all.filter((each) => each.person === who && each.state === "waiting").sort((a, b) => (a.at < b.at ? -1 : 1));
  let fault = null;
  for (const photo of wait) {
    try {
      if (await sendOne(photo, post)) touched.add(photo.site);
    } catch (error) {
      if (!isFault(error)) throw error;
      fault ??= error;
    }
  }
  if (fault && !touched.size) throw fault;
  return touched;
}

// The server failed over this photo; it may take the next one. Where it asks to wait, or is gone, all wait.
const isFault = (error) => error.message.startsWith("photo 5") || (error.state === "failed" && !error.wait);

// PUT says what is to come and how much of it has arrived; PATCH adds a piece at an offset.
async function sendOne(photo, post) {
  const about = Object.fromEntries(SENT.filter((name) => photo[name] !== undefined).map((name) => [name, photo[name]]));
  let told = await answered(await post(`/api/photos/${photo.id}`, JSON.stringify(about), "PUT"));
  const bytes = told.state === "coming" ? await bytesOf(photo.id) : null;
  if (told.state === "coming" && !bytes) told = { state: "refused", why: "", lost: true }; // this device threw them away
  while (told.state === "coming") {
    const piece = bytes.slice(told.arrived, told.arrived + PIECE);
    const headers = { "Content-Type": "application/octet-stream", "Upload-Offset": String(told.arrived) };
    told = await answered(await post(`/api/photos/${photo.id}/bytes`, piece, "PATCH", headers));
  }
  if (told.state === "later") return false;
  await settle(photo.id, told);
  return true;
}

async function answered(answer) {
  if (answer.status === 401 || answer.redirected) throw new Error("signed-out");
  if (answer.status >= 500 || answer.status === 429) throw new Error(`photo ${answer.status}`);
  const told = await answer.json().catch(() => { throw new TypeError("astray"); }); // a hotel's gate
  if (answer.status === 404) return { state: "later" }; // its opening is still on its way
  if (!answer.ok && answer.status !== 409) return { state: "refused", why: reason(told) || String(answer.status) };
  return told; // 409: a piece went astray; the answer says how much has arrived
}

function reason(told) {
  const first = told.mistakes?.[0];
  return first ? [first.path, first.message, first.accepted].filter(Boolean).join(": ") : told.detail ?? told.title ?? "";
}

async function settle(id, told) {
  const tx = (await store()).transaction(["photos", "bytes"], "readwrite", STRICT);
  if (told.state === "kept") {
    tx.objectStore("photos").delete(id);
    tx.objectStore("bytes").delete(id);
  } else {
    const photo = await tx.objectStore("photos").get(id);
    if (photo) tx.objectStore("photos").put({ ...photo, state: "refused", why: told.why, lost: told.lost ?? false });
  }
  await tx.done;
}
