// Sends what waits: first the entries in the order in which they were written, then the photos one by one. One tab at a
// time, and only what belongs to the person who is signed in. No browser promises to send in the background: it is
// tried when a page opens, when the network comes back, when the page is seen again, and every 15 s.
import { asSent, entries, keepSite, refused, taken, tell } from "./outbox.js";
import { sendPhotos } from "./photos.js";
import { store } from "./store.js";

const AT_ONCE = 100; // entries of one request
const EVERY = 15_000;

export const status = { state: "idle", me: null }; // idle | sending | offline | signed-out | failed
const said = (state) => { status.state = state; tell(); return state; };

async function ask(path, options = {}) {
  return fetch(path, { credentials: "same-origin", cache: "no-store", ...options, headers: { Accept: "application/json", ...options.headers } });
}

// Who is signed in, with a token of forms that is good now: a kept page holds an old one.
async function me() {
  const answer = await ask("/api/me");
  if (answer.status === 401 || answer.status === 403 || answer.redirected) return null;
  if (!answer.ok) throw new Error(`me ${answer.status}`);
  return answer.json();
}

let again = false;

// Send everything that can be sent. Answers with the state it ended in.
export async function send() {
  if (!navigator.locks) return sending();
  const done = await navigator.locks.request("sending", { ifAvailable: true }, (lock) => (lock ? sending() : "busy"));
  if (done === "busy") again = true;
  return done;
}

async function sending() {
  try {
    if (!(await anything())) return said("idle");
    said("sending");
    const found = await me();
    if (!found) return said("signed-out");
    status.me = found;
    const post = (path, body, method = "POST", headers = {}) => ask(path, {
      method,
      body,
      headers: { "X-CSRFToken": found.csrf, ...(typeof body === "string" ? { "Content-Type": "application/json" } : {}), ...headers },
    });
    const touched = await sendEntries(found.user.id, post);
    const more = await sendPhotos(found.user.id, post);
    for (const id of new Set([...touched, ...more])) await refresh(id);
    return said("idle");
  } catch (error) {
    return said(error instanceof TypeError ? "offline" : error.message === "signed-out" ? "signed-out" : "failed");
  } finally {
    if (again) { again = false; setTimeout(send, 0); }
  }
}

async function anything() {
  const db = await store();
  const waits = (each) => each.state !== "refused";
  return (await db.getAll("entries")).some(waits) || (await db.getAll("photos")).some(waits);
}

async function sendEntries(who, post) {
  const touched = new Set();
  let wait = (await entries(who)).filter((each) => each.state === "waiting");
  while (wait.length) {
    const some = wait.slice(0, AT_ONCE);
    const answer = await post("/api/entries", JSON.stringify({ entries: some.map(asSent) }));
    if (answer.status === 401 || answer.redirected) throw new Error("signed-out");
    if (!answer.ok) throw new Error(`entries ${answer.status}`);
    const { answers } = await answer.json();
    for (const [index, entry] of some.entries()) {
      const judged = answers[index];
      if (judged?.answer === "kept") await taken(entry);
      else if (judged?.answer === "refused") await refused(entry, judged.why);
      if (entry.site) touched.add(entry.site);
    }
    tell();
    const done = new Set(some.map((each) => each.id)); // what is to come later waits for the next time
    wait = (await entries(who)).filter((each) => each.state === "waiting" && !done.has(each.id));
  }
  return touched;
}

// What the server says of a site now, with what others wrote.
export async function refresh(id) {
  const answer = await ask(`/sites/${id}/kept.json`);
  if (answer.ok && !answer.redirected) await keepSite(await answer.json());
}

export function keepSending() {
  addEventListener("online", send);
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") send(); });
  setInterval(() => { if (document.visibilityState === "visible") send(); }, EVERY);
  return send();
}
