// Taking back what was written. What was never sent is gone without a trace; what may have arrived is answered by a new
// entry, since the record is only ever added to.
import { addAll, discard, entries, putBack, tell } from "./outbox.js";
import { bytesOf, keepPhoto } from "./photos.js";
import { undoing } from "./saying.js";
import { store, STRICT } from "./store.js";

// Take an entry back that is still here. Answers {gone} with it, {added} with what was written against it, or nothing
// where it can no longer be taken back here.
export async function takeBack(id) {
  const found = (await entries()).find((each) => each.id === id);
  if (!found) return photoBack(id);
  if (!found.tries || found.state === "refused") return { gone: await discard(id) };
  if (!["observation", "remark", "move"].includes(found.kind)) return null; // a door or a question that may be there stays
  return { added: await addAll(undoing(found)) };
}

// A photo that was refused.
async function photoBack(id) {
  const photo = await (await store()).get("photos", id);
  if (photo?.state !== "refused") return null;
  const bytes = await bytesOf(id);
  const tx = (await store()).transaction(["photos", "bytes"], "readwrite", STRICT);
  await Promise.all([tx.objectStore("photos").delete(id), tx.objectStore("bytes").delete(id), tx.done]);
  tell();
  return { gone: photo, bytes };
}

// Undo the taking back.
export async function undoTakeBack(done) {
  if (done.bytes) return keepPhoto(done.gone, done.bytes).then(tell);
  if (done.gone) return putBack(done.gone);
  for (const each of done.added) await discard(each.id);
  return undefined;
}
