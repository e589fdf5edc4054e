// “Keep this site on this phone”: fetches what opens of a site without a network, one opening after the other. It can
// be stopped and goes on where it was; when the page of a kept site is opened, what has changed is fetched anew.
import { keepNote, note, store, STRICT } from "./store.js";
import { site as told } from "./outbox.js";
import { PLACED } from "./own.js";
import { refresh } from "./sync.js";
import { about, room, span, when } from "./told.js";
import { ask, hindrance, keptPaths, lasting } from "./worker.js";

const section = document.getElementById("placing");
const [start, stop, off] = ["start", "stop", "off"].map((name) => section.querySelector(`[data-${name}]`));
const [line, bar, how] = [section.querySelector("[role=status]"), section.querySelector("progress"), section.querySelector("[data-how]")];
const words = section.dataset;
const id = words.site;
let going = false;

const noted = async () => (await note(PLACED + id)) ?? { openings: {}, bytes: 0, all: 0 };
const ofSite = [`/sites/${id}/`, `/sites/${id}/facts/`, `/sites/${id}/walk/`];
const ofOpening = (opening) => [`/openings/${opening}/`, `/openings/${opening}/facts/`, `/openings/${opening}/photos/`, `/openings/${opening}/list/protection/`];

// What a page rests on: as long as that is the same, the kept page is as good as a new one.
const stampOfSite = ({ site }) => JSON.stringify([site.name, site.units, site.may_write, ...Object.values(site.facts).map(({ heads }) => heads.map((head) => head.id))]);
const stampOf = (opening) => [opening.tag, opening.revision, opening.remarks.length, opening.photos.map(({ state }) => state)].join(" ");

class Stopped extends Error {}

// Keep pages; the bytes that each takes, 0 for one that cannot be had. Throws Stopped where it cannot go on.
async function keep(paths) {
  const sizes = [];
  for (const path of paths) {
    const { size = 0, why } = await ask({ do: "keep", path });
    if (why && why !== "none") throw new Stopped(why);
    sizes.push(size);
  }
  return sizes;
}

const sum = (sizes) => sizes.reduce((all, each) => all + each, 0);

// Parts of a page that are fetched when somebody opens them.
async function partsOf(path) {
  const page = await caches.match(path, { ignoreVary: true });
  if (!page) return [];
  const read = new DOMParser().parseFromString(await page.text(), "text/html");
  return [...read.querySelectorAll("[data-fetch]")].map((each) => `${each.dataset.fetch}?part&page=facts`);
}

// How many bytes an opening takes; 0 where it would not open without a network.
async function placeOpening({ id: opening }) {
  const [study, facts, ...more] = ofOpening(opening);
  const first = await keep([study, facts]);
  return first.includes(0) ? 0 : sum([...first, ...(await keep([...more, ...(await partsOf(facts))]))]);
}

async function place() {
  await refresh(id);
  const site = await told(id);
  if (!site) throw new Stopped("signed-out");
  const before = await noted();
  const same = before.site === stampOfSite(site);
  const done = { ...before, site: stampOfSite(site), all: site.openings.length, openings: {} };
  for (const each of site.openings) if (same && before.openings[each.id]) done.openings[each.id] = before.openings[each.id];
  done.head = sum(await keep(ofSite));
  for (const [number, opening] of site.openings.entries()) {
    show(number, site.openings.length);
    if (!going) throw new Stopped("stopped");
    const stamp = stampOf(opening);
    if (done.openings[opening.id]?.stamp === stamp) continue;
    const bytes = await placeOpening(opening);
    if (bytes) done.openings[opening.id] = { stamp, bytes };
    await keepNote(PLACED + id, { ...done, at: new Date().toISOString() });
  }
  await keepNote(PLACED + id, { ...done, at: new Date().toISOString() });
}

function show(number, all) {
  bar.max = Math.max(all, 1);
  bar.value = number;
  line.textContent = about(words.going, { count: number + 1, all });
}

async function run() {
  going = true;
  buttons(true);
  let why = "";
  try {
    await place();
  } catch (error) {
    if (error instanceof Stopped) why = error.message;
    else why = error.name === "QuotaExceededError" ? "room" : "network";
  }
  going = false;
  await settled(why);
}

const REASONS = { network: "network", room: "full", "signed-out": "out", stopped: "stopped" };

// What is kept of the site now, and why not more.
async function settled(why = "") {
  const { at, openings, head = 0, all } = await noted();
  const kept = Object.values(openings);
  const bytes = head + sum(kept.map((each) => each.bytes));
  const told = { count: kept.length, all, when: at && when(at), age: at && span(at), room: room(bytes) };
  how.textContent = at ? about(words.kept, told) : words.not;
  line.textContent = why ? words[REASONS[why] ?? "network"] : "";
  start.textContent = at ? words.again : words.first;
  buttons(false, Boolean(at));
}

function buttons(busy, there = false) {
  start.hidden = busy;
  stop.hidden = bar.hidden = !busy;
  off.hidden = busy || !there;
}

async function takeOff() {
  const site = await told(id);
  const openings = (site?.openings ?? []).flatMap((each) => ofOpening(each.id));
  const begins = [...ofSite, ...openings];
  const paths = [...(await keptPaths())].filter((path) => begins.includes(path) || begins.some((each) => each.endsWith("/facts/") && path.startsWith(each)));
  await ask({ do: "drop", paths });
  const tx = (await store()).transaction("notes", "readwrite", STRICT);
  await Promise.all([tx.store.delete(PLACED + id), tx.done]);
  await settled();
  line.textContent = words.gone;
}

async function begin() {
  const found = await hindrance();
  for (const each of section.querySelectorAll("[data-hindrance]")) each.hidden = each.dataset.hindrance !== found;
  section.querySelector("[data-usable]").hidden = Boolean(found);
  if (found) return;
  start.addEventListener("click", () => { lasting(); run(); });
  stop.addEventListener("click", () => { going = false; });
  off.addEventListener("click", takeOff);
  await settled();
  const fresh = !document.documentElement.dataset.kept;
  if (fresh && (await note(PLACED + id))) await run();
}

begin();
