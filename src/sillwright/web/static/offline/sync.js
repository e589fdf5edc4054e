// Sends what waits: first the entries in the order in which they were written, then the photos one by one. One tab at a
// time, and only what belongs to the person who is signed in. No browser promises to send in the background: it is
// tried when a page opens, when the network comes back, when the page is seen again, every 15 s, and sooner after a
// connection that broke.
import { asSent, entries, keepSite, person, settle, tell, tried } from "./outbox.js";
import { sendPhotos } from "./photos.js";
import { store } from "./store.js";

const AT_ONCE = 100; // entries of one request
const EVERY = 15_000; // ms
const SOON = 500; // after a connection that broke, ms
const LONGEST_WAIT = 300_000; // after failures, ms
const PATIENCE = 60_000; // with one request, ms
const FAULTS = 3; // entries in a row that the server fails on: it is the server

// idle | sending | offline | signed-out | failed; nothing is sent before `until`, by the clock that nobody can set
export const status = { state: "idle", me: null, until: 0 };
let faults = 0; // how often it failed in a row
let broken = 0; // connections, in a row

function said(state) {
  if (status.state !== state) { status.state = state; tell(); }
  return state;
}

class Stop extends Error {
  constructor(state, wait = 0) {
    super(state);
    Object.assign(this, { state, wait });
  }
}

async function ask(path, options = {}) {
  const headers = { Accept: "application/json", ...options.headers };
  const answer = await fetch(path, { credentials: "same-origin", cache: "no-store", signal: AbortSignal.timeout(PATIENCE), ...options, headers });
  const after = Number.parseInt(answer.headers.get("Retry-After") ?? "", 10);
  if (answer.status === 429) throw new Stop("failed", 1000 * (after > 0 ? after : 30));
  if ([502, 503, 504].includes(answer.status)) throw new Stop("failed", 1000 * (after > 0 ? after : 0));
  return answer;
}

// The answer as JSON. A gate of some hotel answers everything with a page of its own: that is no network.
async function read(answer) {
  try { return await answer.json(); } catch { throw new Stop("offline"); }
}

// Who is signed in, with a token of forms that is good now: a kept page holds an old one. Nothing where nobody is.
export async function me() {
  const answer = await ask("/api/me");
  if (answer.status === 401 || answer.status === 403 || answer.redirected) return null;
  if (!answer.ok) throw new Stop("failed");
  const told = await read(answer);
  if (!told?.user?.id) throw new Stop("offline");
  return told;
}

// Requests that change something, with a good token. One that was refused for its token is made once more.
async function poster(found) {
  let { csrf } = found;
  const once = (path, body, method, headers) => ask(path, {
    method,
    body,
    headers: { "X-CSRFToken": csrf, ...(typeof body === "string" ? { "Content-Type": "application/json" } : {}), ...headers },
  });
  return async (path, body, method = "POST", headers = {}) => {
    const answer = await once(path, body, method, headers);
    if (answer.ok) broken = 0;
    if (answer.status !== 403) return answer;
    const now = await me();
    if (now?.user.id !== found.user.id) throw new Stop("signed-out");
    if (now.csrf === csrf) return answer;
    csrf = now.csrf;
    return once(path, body, method, headers);
  };
}

let queued = null;

// Send everything that can be sent; `now` asks anew although it failed a moment ago. Answers with the state it ended in.
export function send(now = false) {
  if (now) status.until = 0;
  queued ??= alone(() => { queued = null; return sending(); }).then((state) => { soon(state); return state; });
  return queued;
}

const alone = (run) => (navigator.locks ? navigator.locks.request("sending", run) : Promise.resolve().then(run));

async function sending() {
  try {
    const who = await person();
    if (!who || !(await anything(who.id))) return said("idle");
    if (performance.now() < status.until) return status.state;
    said("sending");
    const found = await me();
    if (found?.user.id !== who.id) return said("signed-out");
    status.me = found;
    const post = await poster(found);
    const touched = await sendEntries(who.id, post);
    const more = await sendPhotos(who.id, post);
    for (const id of new Set([...touched, ...more, ...(await outdated(who.id))])) await refresh(id);
    faults = 0;
    return said("idle");
  } catch (error) {
    return said(stopped(error));
  }
}

function stopped(error) {
  if (error.message === "signed-out") return "signed-out";
  const lost = error instanceof TypeError || ["TimeoutError", "AbortError", "NetworkError"].includes(error.name);
  if (lost || error.state === "offline") return "offline";
  faults += 1;
  status.until = performance.now() + (error.wait || Math.min(LONGEST_WAIT, 5000 * 3 ** (faults - 1)));
  return "failed";
}

async function anything(who) {
  const db = await store();
  const waits = (each) => each.person === who && each.state !== "refused";
  return (await db.getAll("entries")).some(waits) || (await db.getAll("photos")).some(waits) || (await outdated(who)).length > 0;
}

// Sites of which entries were taken since the server told of them.
async function outdated(who) {
  const all = await (await store()).getAll("sites");
  return all.filter((each) => each.person?.id === who && each.taken !== each.heard).map((each) => each.site.id);
}

// What can be sent now, doors before what is written of them. What hangs on a door that was refused has to wait.
async function ready(who, but) {
  const mine = await entries(who);
  const lost = new Set(mine.filter((each) => each.kind === "opening" && each.state === "refused").map((each) => each.id));
  const wait = mine.filter((each) => each.state === "waiting" && !but.has(each.id) && !lost.has(each.opening));
  return [...wait.filter((each) => each.kind === "opening"), ...wait.filter((each) => each.kind !== "opening")];
}

async function sendEntries(who, post) {
  const touched = new Set();
  const done = new Set(); // what is to come later waits for the next time
  const failing = { row: 0 };
  for (let wait = await ready(who, done); wait.length; wait = await ready(who, done)) {
    const some = wait.slice(0, AT_ONCE);
    for (const each of some) done.add(each.id);
    await tried(some);
    const judged = await judgedBy(post, some, failing);
    await settle(judged);
    for (const { entry } of judged) if (entry.site) touched.add(entry.site);
  }
  return touched;
}

// What the server says of each. A request that it cannot take as a whole is halved until the entry at fault stands alone.
async function judgedBy(post, some, failing) {
  const answer = await post("/api/entries", JSON.stringify({ entries: some.map(asSent) }));
  if (answer.status === 401 || answer.redirected) throw new Stop("signed-out");
  if (answer.ok) {
    failing.row = 0;
    const { answers } = await read(answer);
    if (!Array.isArray(answers)) throw new Stop("offline");
    return some.map((entry, index) => ({ entry, ...fitting(entry, answers[index]) })).filter((each) => each.answer);
  }
  if (some.length > 1) {
    const half = some.length >> 1;
    return [...(await judgedBy(post, some.slice(0, half), failing)), ...(await judgedBy(post, some.slice(half), failing))];
  }
  if (answer.status >= 500) {
    failing.row += 1;
    if (failing.row >= FAULTS) throw new Stop("failed");
    return [];
  }
  const told = await answer.json().catch(() => ({}));
  return [{ entry: some[0], answer: "refused", why: told.detail ?? told.title ?? String(answer.status) }];
}

function fitting(entry, judged) {
  if (!judged || (judged.id && judged.id !== entry.id)) return {};
  return ["kept", "refused", "later"].includes(judged.answer) ? { answer: judged.answer, why: judged.why ?? "" } : {};
}

// What the server says of a site now, with what others wrote.
export async function refresh(id) {
  for (let turn = 0; turn < 3; turn += 1) {
    const before = (await (await store()).get("sites", id))?.taken ?? 0;
    const answer = await ask(`/sites/${id}/kept.json`);
    if ([403, 404].includes(answer.status)) return forget(id);
    if (!answer.ok || answer.redirected) return undefined;
    if (await keepSite(await read(answer), before)) { tell(); return undefined; }
  }
  return undefined;
}

// This person may not see the site any more.
async function forget(id) {
  await (await store()).delete("sites", id);
}

let going = false;
let again = 0;

// A server that went away is asked again soon, and then less and less often; without any network it is no use.
function soon(state) {
  broken = state === "offline" ? broken + 1 : 0;
  clearTimeout(again);
  if (going && broken && navigator.onLine) again = setTimeout(send, Math.min(EVERY, SOON * 2 ** (broken - 1)));
}

export function keepSending() {
  if (!going) {
    going = true;
    const seen = () => document.visibilityState === "visible";
    addEventListener("online", () => send(true));
    document.addEventListener("visibilitychange", () => { if (seen()) send(); });
    setInterval(() => { if (seen()) send(); }, EVERY);
  }
  return send();
}
