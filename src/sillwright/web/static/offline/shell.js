// On every page: starts the worker that opens pages without a network, says what a kept page is, tells of a new
// version, and forgets what belongs to somebody else.
import { about, span, when } from "./told.js";

const shell = document.getElementById("shell");
const me = document.querySelector('meta[name="person"]')?.content ?? null;
const site = document.querySelector('meta[name="site"]')?.content ?? null;
const everybodys = document.querySelector('meta[name="everybodys"]'); // the page in place of others knows nobody
const since = document.documentElement.dataset.kept;
const LEAVING = "leaving";
const PATIENCE = 8000; // ms that the network has where somebody signs out

// A kept page says since when it is kept, and says it anew as it grows older.
function age() {
  const line = shell.querySelector("[data-from]");
  line.textContent = about(line.dataset.from, { when: when(since), age: span(since) });
}

if (since) {
  age();
  setInterval(age, 60_000);
}

// A sign-out has worked when the page after it knows nobody; without a network it has not, and everything stays.
document.addEventListener("submit", (event) => {
  if (!shell.dataset.out.split(" ").includes(event.target.getAttribute?.("action"))) return;
  sessionStorage.setItem(LEAVING, "1");
  if (!navigator.serviceWorker?.controller) return;
  event.preventDefault();
  leave(event.target);
});

// Where the network does not answer nobody is signed out: a kept page says so in place of the browser's own.
async function leave(form) {
  try {
    await fetch(shell.dataset.offline, { method: "HEAD", cache: "no-store", signal: AbortSignal.timeout(PATIENCE) });
    form.submit();
  } catch {
    sessionStorage.removeItem(LEAVING);
    location.assign(`${shell.dataset.offline}?out`);
  }
}

async function belongs(worker) {
  const left = !me && sessionStorage.getItem(LEAVING);
  sessionStorage.removeItem(LEAVING);
  if (left) worker.postMessage({ do: "forget" });
  if (left || me) await import("./own.js").then((own) => own.keepOnlyOf(me)).catch(() => {}); // nothing is kept there
}

// What is told of the site of this page is kept with it, once a minute at most.
async function refreshSite() {
  const noted = `told ${site}`;
  if (Date.now() - Number(sessionStorage.getItem(noted)) < 60_000) return;
  await (await import("./sync.js")).refresh(site);
  sessionStorage.setItem(noted, Date.now());
}

// A new version waits until somebody takes it: under a page that is open it would mix two of them.
function watch(registration) {
  const notice = document.getElementById("newer");
  const waits = () => { notice.hidden = !(registration.waiting && navigator.serviceWorker.controller); };
  const follow = (worker) => worker?.addEventListener("statechange", waits);
  registration.addEventListener("updatefound", () => follow(registration.installing));
  follow(registration.installing);
  notice.querySelector("[data-take]").addEventListener("click", () => {
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
    registration.waiting?.postMessage({ do: "now" });
  });
  notice.querySelector("[data-later]").addEventListener("click", () => { notice.hidden = true; });
  waits();
}

async function start() {
  const registration = await navigator.serviceWorker.register(shell.dataset.worker, { updateViaCache: "none" });
  watch(registration);
  if (since || everybodys) return;
  const { active } = await navigator.serviceWorker.ready;
  await belongs(active);
  if (!me) return;
  const paths = [...shell.dataset.always.split(" "), location.pathname + location.search];
  active.postMessage({ do: "have", paths });
  active.postMessage({ do: "settle" });
  if (site) await refreshSite();
}

// At the first visit the worker fetches every file of ours: the page comes first, and the one after it.
function begin() {
  const quietly = () => start().catch(() => {}); // without it everything works as long as there is a network
  if (navigator.serviceWorker.controller) quietly();
  else setTimeout(quietly, 2000);
}

if (!navigator.serviceWorker) { /* the page "On this phone" says so */ }
else if (document.readyState === "complete") begin();
else addEventListener("load", begin);
