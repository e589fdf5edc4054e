// What people wrote on this device and the server has not taken yet. Nothing leaves it but by the server's "kept" or
// by a person's hand.
//
// An entry is what POST /api/entries takes – {kind, id, site, opening, at, …} – beside what only this device knows:
//   person  whose it is; another person on the same phone never sends it
//   state   "waiting", or "refused" with the reason in `why`
import { headOf, withOne, empty, standing } from "./heads.js";
import { freshId, keepNote, note, store, STRICT } from "./store.js";

const OWN = ["person", "author", "state", "why", "tries"]; // not sent

const changed = new EventTarget();

// Calls back whenever what waits here may have changed, in this tab or another one.
export function onChange(run) {
  changed.addEventListener("change", run);
}

const channel = typeof BroadcastChannel === "function" ? new BroadcastChannel("outbox") : null;
if (channel) channel.onmessage = () => changed.dispatchEvent(new Event("change"));

export function tell() {
  changed.dispatchEvent(new Event("change"));
  channel?.postMessage("change");
}

// Who writes on this device now: {id, name}. A page of a signed-in person says it; offline pages remember it.
export async function person() {
  const told = document.querySelector('meta[name="person"]');
  return told ? { id: told.content, name: told.dataset.name ?? "" } : ((await note("person")) ?? null);
}

export async function rememberPerson() {
  const told = document.querySelector('meta[name="person"]');
  if (told) await keepNote("person", { id: told.content, name: told.dataset.name ?? "" });
}

// Keep an entry. When this resolves it is on the disk of the device. Answers with the entry.
export async function add(entry) {
  return (await addAll([entry]))[0];
}

// Keep several, all or none.
export async function addAll(entries) {
  const who = await person();
  if (!who) throw new Error("nobody is signed in");
  const now = Date.now();
  const made = entries.map((each, number) => ({
    id: freshId(),
    at: new Date(now + number).toISOString(), // in the order in which they were written
    ...each,
    person: who.id,
    author: who.name,
    state: "waiting",
    tries: 0,
  }));
  const tx = (await store()).transaction("entries", "readwrite", STRICT);
  await Promise.all([...made.map((each) => tx.store.put(each)), tx.done]);
  tell();
  return made;
}

const inOrder = (a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : 1);

// Everything of a person that waits or was refused, oldest first; of everybody without one.
export async function entries(who = null) {
  const all = await (await store()).getAll("entries");
  return all.filter((each) => !who || each.person === who).sort(inOrder);
}

export async function entriesOf(opening) {
  return (await (await store()).getAllFromIndex("entries", "opening", opening)).sort(inOrder);
}

// As the server takes it.
export function asSent(entry) {
  const sent = Object.fromEntries(Object.entries(entry).filter(([name]) => !OWN.includes(name)));
  if (sent.kind !== "observation" || sent.origin === undefined) return sent;
  const { origin, ...rest } = sent;
  return { ...rest, from: origin };
}

// The server has taken it: it moves from the outbox to what is kept of its site, in one step.
export async function taken(entry) {
  const tx = (await store()).transaction(["entries", "sites"], "readwrite", STRICT);
  const sites = tx.objectStore("sites");
  const site = entry.site && (await sites.get(entry.site));
  if (site) sites.put(withEntry(site, entry), entry.site);
  tx.objectStore("entries").delete(entry.id);
  await tx.done;
}

export async function refused(entry, why) {
  await change(entry.id, { state: "refused", why });
}

async function change(id, changes) {
  const tx = (await store()).transaction("entries", "readwrite", STRICT);
  const found = await tx.store.get(id);
  if (found) tx.store.put({ ...found, ...changes });
  await tx.done;
}

// A person corrects a refused entry: it is sent again. What the server refused it never kept, so the id may stay.
export async function correct(id, changes) {
  await change(id, { ...changes, state: "waiting", why: "", tries: 0 });
  tell();
}

// A person takes an entry back that nobody else has seen. Answers with it, so that this can be undone.
export async function discard(id) {
  const tx = (await store()).transaction("entries", "readwrite", STRICT);
  const found = await tx.store.get(id);
  await tx.store.delete(id);
  await tx.done;
  tell();
  return found;
}

export async function putBack(entry) {
  const tx = (await store()).transaction("entries", "readwrite", STRICT);
  await Promise.all([tx.store.put(entry), tx.done]);
  tell();
}

// What stands here: how many entries and photos wait, how many were refused, and since when the oldest waits.
export async function state(who) {
  const db = await store();
  const mine = (await entries(who)).filter((each) => each.person === who);
  const photos = (await db.getAll("photos")).filter((each) => each.person === who);
  const all = [...mine, ...photos];
  return {
    waiting: mine.filter((each) => each.state === "waiting").length,
    refused: all.filter((each) => each.state === "refused").length,
    photos: photos.filter((each) => each.state !== "refused").length,
    oldest: all.length ? all.map((each) => each.at).sort()[0] : null,
  };
}

// A site as it was told and with what was written here since; nothing where it was never kept.

export async function site(id) {
  const db = await store();
  const [told, written] = await Promise.all([db.get("sites", id), entries()]);
  if (!told) return null;
  return written.filter((each) => each.site === id && each.state === "waiting").reduce(withEntry, told);
}

export async function keepSite(told) {
  const tx = (await store()).transaction("sites", "readwrite", STRICT);
  await Promise.all([tx.store.put(told, told.site.id), tx.done]);
}

// The site after one entry; the merge is a set, so an entry that the server has told of already changes nothing.
export function withEntry(told, entry) {
  if (entry.kind === "opening") return withOpening(told, entry);
  if (entry.kind === "observation" && !entry.opening) {
    return { ...told, site: { ...told.site, facts: withFact(told.site.facts, entry) } };
  }
  const one = (opening) => {
    if (opening.id !== entry.opening) return opening;
    if (entry.kind === "observation") return { ...opening, facts: withFact(opening.facts, entry), answer: null };
    if (entry.kind === "remark") return { ...opening, remarks: withRemark(opening.remarks, entry) };
    return opening;
  };
  return { ...told, openings: told.openings.map(one) };
}

function withOpening(told, { id, tag }) {
  if (told.openings.some((each) => each.id === id)) return told;
  const position = Math.max(-1, ...told.openings.map((each) => each.position)) + 1;
  const made = { id, tag, position, revision: 0, facts: {}, remarks: [], photos: [], answer: null, here: true };
  return { ...told, openings: [...told.openings, made] };
}

const withFact = (facts, entry) => ({ ...facts, [entry.fact]: withOne(facts[entry.fact] ?? empty(), headOf(entry)) });

function withRemark(remarks, entry) {
  const { id, says, about = "", words = "", author, at, replaces = [] } = entry;
  const kept = remarks.filter((each) => !replaces.includes(each.id) && each.id !== id);
  return words || says === "left" ? [...kept, { id, says, about, words, author, at }] : kept;
}

// The facts of an opening as entries for the evaluator (evaluator/answer.js).
export function toldOf(told, opening) {
  const listed = (facts) => Object.entries(standing(facts)).flatMap(([path, heads]) => heads.map((each) => ({ path, ...each })));
  const found = told.openings.find((each) => each.id === opening);
  return { country: told.site.country, site: listed(told.site.facts), opening: listed(found?.facts ?? {}) };
}
