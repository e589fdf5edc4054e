// The calls that this phone holds until there is a network: each by the moment in which it began, the newest first.
// A call is its address. Two windows with a call each keep both.
import { STRICT, note, store } from "./offline/store.js";

const NOTE = "trouble calls";
const MOST = 8;

const asList = (found) => (Array.isArray(found) ? found : []);

// What is kept, as {began, since, address}.
export async function calls() {
  try { return asList(await note(NOTE)); } catch { return []; } // a private window of some browsers
}

async function changed(change) {
  const tx = (await store()).transaction("notes", "readwrite", STRICT);
  const before = asList(await tx.store.get(NOTE));
  await Promise.all([tx.store.put(change(before), NOTE), tx.done]);
}

const without = (all, began) => all.filter((each) => each.began !== began);

// Keep a call as it stands. Rejects where nothing is kept.
export const keepCall = (call) => changed((all) => [call, ...without(all, call.began)].slice(0, MOST));

// A call that was opened needs nothing of this phone any more.
export const dropCall = (began) => changed((all) => without(all, began)).catch(() => {});
