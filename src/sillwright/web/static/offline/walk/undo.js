// Taking back what one tap has written. What was never sent goes without a trace, all of it or nothing; what may have
// arrived is answered by new entries, since the record is only ever added to.
import { again } from "../saying.js";
import { addAll, tell } from "../outbox.js";
import { store, STRICT } from "../store.js";

// Answers whether it could be taken back: a door that the server may have cannot.
export async function takeBack(entries) {
  if (await discarded(entries.map((each) => each.id))) return true;
  if (entries.some((each) => each.kind === "opening")) return false;
  await addAll(entries.flatMap(against));
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

// What stood before, said again; where nothing stood, that it is not known, or that the new device is gone.
export function against(entry) {
  const { kind, site, opening, id } = entry;
  if (kind === "remark") {
    const back = entry.before.map(({ says, about, words }) => ({ kind, site, opening, says, about, words, replaces: [id] }));
    return back.length ? back : [{ kind, site, opening, says: "remark", about: "", words: "", replaces: [id] }];
  }
  const told = entry.before.map((each) => again({ ...each, fact: each.fact ?? entry.fact }));
  const own = told.some((each) => each.fact === entry.fact);
  const all = own || entry.says === "removed" || entry.says === "none" ? told : [nothing(entry.fact), ...told];
  const rest = all.length ? all : [again({ fact: entry.fact, says: "unknown" })];
  return rest.map((each) => ({ kind, site, opening, ...each, replaces: [id] }));
}

const DEVICE = /^(protection\.[^.]+)\.kind$/;

const nothing = (fact) => again(DEVICE.test(fact) ? { fact: DEVICE.exec(fact)[1], says: "removed" } : { fact, says: "unknown" });
