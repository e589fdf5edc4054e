// Keeps what was opened, so that it opens without a network. Nothing else: what people write never passes here.
//   "static <version>"          our scripts and style sheets, by names that change with their content
//   "pages <version> <person>"  pages as they were last shown to a person; forgotten when somebody else comes. Those
//                               that were "looked" at are limited in number, those "placed" on purpose are not.
const VERSION = "{{ version }}";
const OURS = {{ ours|safe }};
const STATIC = `static ${VERSION}`;
const PATIENCE = 4000; // ms that the network has where a page is kept
const MOST = 400;
const DOWN = new Set([502, 503, 504]); // what stands in front of a server says while the server is away
const GONE = new Set([403, 404, 410]);
const NOBODY = "nobody"; // whose pages of the workbench are where nobody is signed in
const ID = "[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}";
const WORTH = new RegExp(`^/(here/|workbench/(?!fault-bench/).*|sites/${ID}/(walk/|facts/.*)?|openings/${ID}/(photos/|facts/.*|list/.*)?)?$`);
const PARTS = new RegExp(`^/(sites|openings)/${ID}/facts/`);
const PERSON = /<meta name="person" content="([^"]+)"/;
const OF_NOW = `pages ${VERSION} `;
const personOf = (cache) => cache.split(" ")[2];
const current = (cache) => cache.startsWith(OF_NOW);
const address = (url) => url.pathname + url.search;
const at = (path) => new URL(path, location.origin);

// Names of caches with pages, those of this version first.
async function pageCaches() {
  const names = (await caches.keys()).filter((each) => each.startsWith("pages "));
  return names.sort((a, b) => current(b) - current(a));
}

// What is kept under an address, of whichever version.
async function kept(url, names = null) {
  for (const each of names ?? (await pageCaches())) {
    const found = await (await caches.open(each)).match(address(url), { ignoreVary: true });
    if (found) return found;
  }
  return undefined;
}

let forgotten = 0;

// Forget the pages of everybody but one; of everybody without one. Pages without a person stay.
async function forget(but = null) {
  const gone = (await pageCaches()).filter((each) => ![but, NOBODY].includes(personOf(each)));
  if (gone.length) forgotten += 1;
  await Promise.all(gone.map((each) => caches.delete(each)));
}

// Whose an answer is: a page says it, a part of one belongs to whose pages are here.
async function whose(url, body) {
  if (!/^\s*<!doctype/i.test(body)) return (await pageCaches()).map(personOf).find((each) => each !== NOBODY);
  return PERSON.exec(body)?.[1] ?? (url.pathname.startsWith(OURS.workbench) ? NOBODY : undefined);
}

// Take pages off this device.
async function drop(paths) {
  const there = await Promise.all((await pageCaches()).map((each) => caches.open(each)));
  await Promise.all(there.flatMap((cache) => paths.map((path) => cache.delete(path, { ignoreVary: true }))));
}

// Keep an answer under an address; how many bytes were kept, 0 where it is none to keep: a refusal, a redirection to
// the sign-in page, a page that nobody is signed in at. Rejects where there is no room; what was kept before stays.
async function keep(url, response, onPurpose = false) {
  if (!response.ok || response.redirected || response.type !== "basic" || !WORTH.test(url.pathname)) return 0;
  const before = forgotten;
  const body = await response.text();
  const person = await whose(url, body);
  if (!person || before !== forgotten) return 0;
  if (person !== NOBODY) await forget(person);
  const [looked, placed] = await Promise.all(["looked", "placed"].map((how) => caches.open(`${OF_NOW}${person} ${how}`)));
  const headers = new Headers(response.headers);
  for (const each of ["Content-Encoding", "Content-Length", "Vary"]) headers.delete(each);
  headers.set("Kept-At", new Date().toISOString());
  const stays = onPurpose || Boolean(await placed.match(address(url)));
  const bytes = new Blob([body]);
  await (stays ? placed : looked).put(address(url), new Response(bytes, { headers }));
  await (stays ? looked.delete(address(url)) : trim(looked));
  return bytes.size;
}

// Of too many pages that were only looked at, those go that were not looked at for longest.
async function trim(cache) {
  const all = await cache.keys();
  if (all.length <= MOST) return;
  const dated = await Promise.all(all.map(async (each) => [(await cache.match(each))?.headers.get("Kept-At") ?? "", each]));
  dated.sort(([a], [b]) => (a < b ? -1 : 1));
  await Promise.all(dated.slice(0, all.length - 0.9 * MOST).map(([, each]) => cache.delete(each)));
}

// An answer of the network replaces what is kept; where there is nothing any more, or not for this person, that goes.
const follow = (url, response) => (GONE.has(response.status) ? drop([address(url)]) : keep(url, response));

// Ask the network, and keep what it answers, however late.
function asked(event, url) {
  const fresh = fetch(event.request);
  if (WORTH.test(url.pathname)) event.waitUntil(fresh.then((response) => follow(url, response.clone())).catch(() => {}));
  return fresh;
}

// The page of the network; where it does not answer the kept one, marked with its time; else the page that says so.
async function page(event, url) {
  const fresh = asked(event, url);
  const answer = await Promise.race([fresh.catch(() => null), new Promise((late) => { setTimeout(late, PATIENCE); })]);
  if (answer && !DOWN.has(answer.status)) return answer;
  const copy = WORTH.test(url.pathname) && (await kept(url));
  if (copy) return marked(copy);
  if (STAND_INS.has(url.pathname)) return (await standIn(url)) ?? answer ?? fresh;
  return answer ?? fresh.catch(async () => (await standIn(url)) ?? Response.error());
}

// What stands in for a page that is not kept. A call goes on with the questions that keep people from harm: the script
// of that page keeps the address, and opens it when there is a network again. The fault bench answers from its book.
const STAND_INS = new Map([[OURS.call, OURS.first], [OURS.first, OURS.first], [OURS.faults, OURS.faults_kept]]);
const standIn = (url) => caches.match(STAND_INS.get(url.pathname) ?? OURS.offline, { ignoreVary: true });

async function marked(copy) {
  const dated = `<html data-kept="${copy.headers.get("Kept-At")}" `;
  return new Response((await copy.text()).replace("<html ", dated), { headers: copy.headers });
}

// A part of a page that a script asks for: of the network, else as it was.
const part = (event, url) => asked(event, url).catch(async () => (await kept(url)) ?? Response.error());

// What the program knows, the same for everybody: of the network, else as it came with this version.
async function book(request) {
  try {
    const fresh = await fetch(request);
    if (fresh.ok && !fresh.redirected) await (await caches.open(STATIC)).put(OURS.book, fresh.clone()).catch(() => {});
    return fresh;
  } catch {
    return (await caches.match(OURS.book, { ignoreVary: true })) ?? Response.error();
  }
}

addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (request.headers.has("Range") || url.pathname.startsWith("/api/")) return;
  if (url.pathname.startsWith(OURS.static) || OURS.files.includes(address(url))) {
    event.respondWith(caches.match(request, { ignoreVary: true }).then((found) => found ?? fetch(request)));
  } else if (request.mode === "navigate") event.respondWith(page(event, url));
  else if (url.pathname === OURS.book) event.respondWith(book(request));
  else if (url.searchParams.has("part") && PARTS.test(url.pathname)) event.respondWith(part(event, url));
});

// Every file of this version; what an earlier version has under the same name is not fetched again.
async function stock() {
  const cache = await caches.open(STATIC);
  await cache.addAll([OURS.offline, OURS.first, OURS.faults_kept].map((each) => new Request(each, { cache: "reload" })));
  await Promise.all(OURS.files.map(async (each) => {
    const there = await caches.match(each, { ignoreVary: true });
    return there ? cache.put(each, there) : cache.add(each);
  }));
}

addEventListener("install", (event) => event.waitUntil(stock()));
addEventListener("activate", (event) => event.waitUntil(clients.claim()));

// After an update every kept page is fetched anew, for it names files of the version before. What is of earlier
// versions goes only when that is done for all of them; without a network it goes on at the next visit.
// Only the newest worker clears up: to one before it, what the next one has brought looks like something old.
const newest = () => !registration.installing && !registration.waiting && self.serviceWorker?.state !== "redundant";
let settling = null;

async function settle() {
  const pages = await pageCaches();
  for (const each of pages.filter((one) => !current(one))) {
    const cache = await caches.open(each);
    for (const request of await cache.keys()) {
      if (!newest() || !(await anew(new URL(request.url), each.endsWith("placed"), pages.filter(current)))) return;
      await cache.delete(request);
    }
    await caches.delete(each);
  }
  const files = (await caches.keys()).filter((each) => each.startsWith("static ") && each !== STATIC);
  if (newest()) await Promise.all(files.map((each) => caches.delete(each)));
}

async function anew(url, onPurpose, pages) {
  if (await kept(url, pages)) return true;
  const response = await fetch(url, { redirect: "manual", cache: "no-store" });
  return GONE.has(response.status) || (await keep(url, response, onPurpose)) > 0;
}

// Fetch a page and keep it. Answers {size}, or {why}: network, room, signed-out, or none where there is no such page.
async function fetched(path, onPurpose) {
  if (!WORTH.test(at(path).pathname)) return { why: "none" };
  try {
    const response = await fetch(path, { redirect: "manual", cache: "no-store" });
    const size = await keep(at(path), response, onPurpose);
    if (size) return { size };
    return { why: response.type === "opaqueredirect" ? "signed-out" : DOWN.has(response.status) ? "network" : "none" };
  } catch (error) {
    return { why: error.name === "QuotaExceededError" ? "room" : "network" };
  }
}

// Fetch what is not kept yet of this version.
async function have(paths) {
  const pages = (await pageCaches()).filter(current);
  for (const path of paths) if (!(await kept(at(path), pages))) await fetched(path, false);
  if (!(await (await caches.open(STATIC)).match(OURS.book, { ignoreVary: true }))) await book(new Request(OURS.book));
}

const DEEDS = {
  now: () => skipWaiting(),
  forget: () => forget(),
  settle: () => (settling ??= settle().catch(() => {}).finally(() => { settling = null; })),
  keep: ({ path }) => fetched(path, true),
  have: ({ paths }) => have(paths),
  drop: ({ paths }) => drop(paths),
};

addEventListener("message", (event) => {
  const deed = DEEDS[event.data?.do];
  if (deed) event.waitUntil(Promise.resolve(deed(event.data)).then((told) => event.ports[0]?.postMessage(told ?? {})));
});
