// Photos that wait on this device: each is sent by itself, in pieces, and goes on where it was interrupted.
import { store, STRICT } from "./store.js";

const PIECE = 256 * 1024;

// Keep a photo: what is known of it, and its bytes. When this resolves both are on the disk of the device.
export async function keepPhoto(about, bytes) {
  const tx = (await store()).transaction(["photos", "bytes"], "readwrite", STRICT);
  tx.objectStore("photos").put(about);
  tx.objectStore("bytes").put(bytes, about.id);
  await tx.done;
}

export async function photosOf(opening) {
  return (await store()).getAllFromIndex("photos", "opening", opening);
}

export async function bytesOf(id) {
  return (await store()).get("bytes", id);
}

const SENT = ["id", "opening", "site", "shot", "fact", "place", "x", "y", "copy_of", "marks", "words", "device", "taken", "size", "digest", "media"];

// Send what waits, oldest first. One that is refused holds up no other. Answers with the sites that changed.
export async function sendPhotos(who, post) {
  const touched = new Set();
  const all = await (await store()).getAll("photos");
  const wait = all.filter((each) => each.person === who && each.state === "waiting").sort((a, b) => (a.at < b.at ? -1 : 1));
  for (const photo of wait) if (await sendOne(photo, post)) touched.add(photo.site);
  return touched;
}

// PUT says what is to come and how much of it has arrived; PATCH adds a piece at an offset.
async function sendOne(photo, post) {
  const about = Object.fromEntries(SENT.filter((name) => photo[name] !== undefined).map((name) => [name, photo[name]]));
  let told = await answered(await post(`/api/photos/${photo.id}`, JSON.stringify(about), "PUT"));
  const bytes = told.state === "coming" ? await bytesOf(photo.id) : null;
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
  const told = await answer.json().catch(() => ({}));
  if (answer.status === 404) return { state: "later" }; // its opening is still on its way
  if (answer.status >= 500 || answer.status === 429) throw new Error(`photo ${answer.status}`);
  if (!answer.ok && answer.status !== 409) return { state: "refused", why: told.detail ?? told.title ?? String(answer.status) };
  return told; // 409: a piece went astray; the answer says how much has arrived
}

async function settle(id, told) {
  const tx = (await store()).transaction(["photos", "bytes"], "readwrite", STRICT);
  if (told.state === "kept") {
    tx.objectStore("photos").delete(id);
    tx.objectStore("bytes").delete(id);
  } else {
    const photo = await tx.objectStore("photos").get(id);
    if (photo) tx.objectStore("photos").put({ ...photo, state: "refused", why: told.why });
  }
  await tx.done;
}
