// What people wrote on this device and the server has not taken yet. Nothing leaves it but by the server's "kept" or
// by a person's hand.
//
// An entry is what POST /api/entries takes – {kind, id, site, opening, at, …} – beside what only this device knows:
//   person  whose it is; another person on the same phone never sends it
//   state   "waiting", or "refused" with the reason in `why`
//   tries   how often it was sent: one that was sent may have arrived although no answer came
//   later   why the server could not keep it yet: the opening that it is about has not arrived
//   title, shown   the fact and the value in words, where a page knew them
//   makes   it is the first that is said of a new member of a list
//   before  the readings that its author saw, so that it can be undone
import { headOf, withOne, empty, standing } from "./heads.js";
import { freshId, keepNote, note, store, STRICT } from "./store.js";

const OWN = ["person", "author", "state", "why", "tries", "later", "title", "shown", "before", "makes"]; // not sent

// Ids of what is being sent at this moment and about to be answered: no page need speak of it yet.
export const flying = new Set();

const SOON = 50; // ms
const changed = new EventTarget();

// Calls back when what waits here may have changed, in this tab or another one: soon, and once for many changes.
export function onChange(run) {
  let asked = false;
  changed.addEventListener("change", () => {
    if (asked) return;
    asked = true;
    setTimeout(() => { asked = false; run(); }, SOON);
  });
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

// A short label of the device, as the server makes one.
export function device(agent = navigator.userAgent) {
  if (/iPad|Tablet/.test(agent) || (agent.includes("Android") && !agent.includes("Mobile"))) return "tablet";
  return agent.includes("Mobi") ? "phone" : "desk";
}

// Keep an entry. When this resolves it is on the disk of the device. Answers with the entry.
export async function add(entry) {
  return (await addAll([entry]))[0];
}

// Keep several, all or none.
export async function addAll(entries) {
  const who = await person();
  if (!who) throw new Error("signed-out");
  const now = Date.now();
  const made = entries.map((each, number) => ({
    id: freshId(),
    at: new Date(now + number).toISOString(), // in the order in which they were written
    device: device(),
    tries: 0,
    ...each,
    person: who.id,
    author: who.name,
    state: "waiting",
  }));
  for (const each of made) if (each.kind === "opening") delete each.device;
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

// They are about to be sent: from now on each may have arrived, whatever becomes of the answer.
export async function tried(some) {
  const tx = (await store()).transaction("entries", "readwrite", STRICT);
  const found = await Promise.all(some.map((each) => tx.store.get(each.id)));
  for (const each of found) if (each) tx.store.put({ ...each, tries: (each.tries ?? 0) + 1 });
  await tx.done;
}

// What the server says of entries: [{entry, answer, why}]. What it took moves from the outbox to what is kept of its
// site, in one step; what it refused stays with the reason.
export async function settle(judged) {
  const tx = (await store()).transaction(["entries", "sites", "notes"], "readwrite", STRICT);
  const [all, sites, notes] = ["entries", "sites", "notes"].map((name) => tx.objectStore(name));
  const touched = new Map();
  const said = [];
  for (const { entry, answer, why } of judged) {
    const found = await all.get(entry.id);
    if (answer !== "kept") {
      const state = answer === "refused" ? { state: "refused", why, later: "" } : { later: why };
      if (found) all.put({ ...found, ...state });
      continue;
    }
    all.delete(entry.id);
    if (why) said.push({ person: entry.person, at: entry.at, why });
    if (!entry.site) continue;
    if (!touched.has(entry.site)) touched.set(entry.site, await sites.get(entry.site));
    const site = touched.get(entry.site);
    if (site) touched.set(entry.site, { ...withEntry(site, entry), taken: (site.taken ?? 0) + 1 });
  }
  for (const [id, site] of touched) if (site) sites.put(site, id);
  if (said.length) notes.put([...((await notes.get("said")) ?? []), ...said], "said");
  await tx.done;
  tell();
}

export const taken = (entry, why = "") => settle([{ entry, answer: "kept", why }]);
export const refused = (entry, why) => settle([{ entry, answer: "refused", why }]);

// A person corrects an entry that was refused: it is sent again under a new id, in case the old one did arrive before.
// Answers with the new one, with nothing where the old one is gone.
export async function correct(id, changes) {
  const tx = (await store()).transaction("entries", "readwrite", STRICT);
  const found = await tx.store.get(id);
  if (!found) return null;
  const fresh = { at: new Date().toISOString(), tries: 0, ...changes, state: "waiting", why: "", later: "" };
  const made = { ...found, ...fresh };
  if (found.kind !== "opening") { // an opening keeps its id: others name it
    made.id = changes.id ?? freshId();
    made.replaces = [...new Set([...(changes.replaces ?? found.replaces ?? []), id])];
    tx.store.delete(id);
    for (const other of await tx.store.getAll()) {
      if (other.replaces?.includes(id) && !other.tries) tx.store.put({ ...other, replaces: [...other.replaces, made.id] });
    }
  }
  tx.store.put(made);
  await tx.done;
  tell();
  return made;
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

// A site as it was told to this person and with what the person wrote here since; nothing where it was never kept. Both
// are read in one step: what the server takes moves from one to the other, and would be in neither between two.
export async function site(id) {
  const who = await person();
  const tx = (await store()).transaction(["sites", "entries"]);
  const [told, all] = await Promise.all([tx.objectStore("sites").get(id), tx.objectStore("entries").getAll()]);
  if (!told || !who || (told.person && told.person.id !== who.id)) return null;
  const mine = all.filter((each) => each.person === who.id && each.site === id && each.state === "waiting");
  return mine.sort(inOrder).reduce(withEntry, told);
}

// What the server tells of a site. `before` is how many entries it had taken of it when it was asked: one that was taken
// since may be missing from what it tells, so nothing is stored and the answer is no.
export async function keepSite(told, before = null) {
  const tx = (await store()).transaction("sites", "readwrite", STRICT);
  const had = (await tx.store.get(told.site.id))?.taken ?? 0;
  const fits = before === null || before === had;
  if (fits) tx.store.put({ ...told, taken: had, heard: had }, told.site.id);
  await tx.done;
  return fits;
}

// The site after one entry; the merge is a set, so an entry that the server has told of already changes nothing.
export function withEntry(told, entry) {
  if (entry.kind === "opening") return withOpening(told, entry);
  if (entry.kind === "move") return { ...told, openings: moved(told.openings, entry) };
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

// The openings with one of them right after another one, or first of all, as the server moves it.
export function moved(openings, { opening, after }) {
  const one = openings.find((each) => each.id === opening);
  const order = openings.filter((each) => each.id !== opening).sort((a, b) => a.position - b.position);
  const at = after ? order.findIndex((each) => each.id === after) : -1;
  if (!one || (after && at < 0)) return openings;
  order.splice(at + 1, 0, one);
  return order.map((each, position) => ({ ...each, position }));
}

const withFact = (facts, entry) => ({ ...facts, [entry.fact]: withOne(facts[entry.fact] ?? empty(), headOf(entry)) });

function withRemark(remarks, entry) {
  const { id, says, about = "", words = "", author, person: who, at, replaces = [] } = entry;
  const kept = remarks.filter((each) => !replaces.includes(each.id) && each.id !== id);
  return words || says === "left" ? [...kept, { id, says, about, words, author, person: who, at }] : kept;
}

// The facts of an opening as entries for the evaluator (evaluator/answer.js).
export function toldOf(told, opening) {
  const listed = (facts) => Object.entries(standing(facts)).flatMap(([path, heads]) => heads.map((each) => ({ path, ...each })));
  const found = told.openings.find((each) => each.id === opening);
  return { country: told.site.country, site: listed(told.site.facts), opening: listed(found?.facts ?? {}) };
}
