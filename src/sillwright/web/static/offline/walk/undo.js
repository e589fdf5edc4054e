// Taking back what one tap has written. What was never sent goes without a trace, all of it or nothing; what may have
// arrived is answered by new entries, since the record is only ever added to.
import { addAll, tell } from "../outbox.js";
import { undoing } from "../saying.js";
import { store, STRICT } from "../store.js";

// Answers whether it could be taken back: a door that the server may have cannot.
export async function takeBack(entries) {
  if (await discarded(entries.map((each) => each.id))) return true;
  if (entries.some((each) => each.kind === "opening")) return false;
  await addAll(entries.flatMap(undoing));
  return true;
}

async function discarded(ids) {
  const tx = (await store()).transaction("entries", "readwrite", STRICT);
  const found = await Promise.all(ids.map((id) => tx.store.get(id)));
  const all = found.every((each) => each && (!each.tries || each.state === "refused"));
  if (all) for (const id of ids) tx.store.delete(id);
  await tx.done;
  if (all) tell();
  return all;
}
