// What this browser keeps of sites belongs to the person it was told to. What somebody wrote and nobody else has yet is
// not touched here.
import { keepNote, note, store, STRICT } from "./store.js";

const WHOSE = "sites of";
export const PLACED = "placed "; // and the id of a site that was kept on purpose

// Forget sites that were told to anybody but this person; all of them for nobody.
export async function keepOnlyOf(person) {
  const before = (await note(WHOSE)) ?? null;
  if (before === person) return;
  if (before) await forgetSites();
  await keepNote(WHOSE, person);
}

async function forgetSites() {
  const tx = (await store()).transaction(["sites", "notes"], "readwrite", STRICT);
  const notes = tx.objectStore("notes");
  const placed = IDBKeyRange.bound(PLACED, `${PLACED}\uffff`);
  await Promise.all([tx.objectStore("sites").clear(), notes.delete(placed), tx.done]);
}
