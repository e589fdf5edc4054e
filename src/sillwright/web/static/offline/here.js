// The page "On this phone": what waits here and what was refused, with the ways out. It draws itself from what is kept.
import { answered } from "./here.entry.js";
import { files, link } from "./file.js";
import { entries, onChange, person } from "./outbox.js";
import { note, keepNote, store } from "./store.js";
import { send } from "./sync.js";
import { undoTakeBack } from "./undo.js";
import { counted, filled } from "./words.js";

const page = document.getElementById("here");
const words = page.dataset;
const by = (id) => document.getElementById(id);
const copy = (id) => by(id).content.firstElementChild.cloneNode(true);
const say = (text) => { by("here-said").textContent = text; };

let turn = 0;

async function draw() {
  const mine = ++turn;
  const who = await person();
  const db = await store();
  const [all, photos, sites] = await Promise.all([entries(), db.getAll("photos"), db.getAll("sites")]);
  const notes = ((await note("said")) ?? []).filter((each) => each.person === who?.id);
  if (mine !== turn || editing()) return;
  const own = all.filter((each) => each.person === who?.id);
  const shots = photos.filter((each) => each.person === who?.id).map((each) => ({ ...each, kind: "photo" }));
  page.hidden = false;
  const count = own.length + shots.length;
  const head = by("here-headline");
  head.textContent = count ? counted(head.dataset, "some", count) : head.dataset.nothing;
  by("here-send").hidden = !count;
  by("here-list").replaceChildren(...bySite([...own, ...shots], sites));
  by("here-others").replaceChildren(...others([...all, ...photos].filter((each) => each.person !== who?.id)));
  tellNotes(notes);
}

// While somebody corrects an entry, nothing is drawn under the fingers.
function editing() {
  const fields = [...by("here-list").querySelectorAll("input[name=typed]")];
  return fields.some((each) => each === document.activeElement || each.value !== each.defaultValue);
}

function grouped(list, key) {
  const found = new Map();
  for (const each of list) found.set(each[key] ?? "", [...(found.get(each[key] ?? "") ?? []), each]);
  return found;
}

function bySite(list, sites) {
  return [...grouped(list, "site")].map(([id, some]) => {
    const site = sites.find((each) => each.site.id === id);
    const box = copy("here-site");
    box.querySelector("[data-name]").textContent = site?.site.name ?? words.somewhere;
    const doors = some.map((each) => (each.kind === "opening" ? { ...each, opening: each.id } : each));
    box.append(...[...grouped(doors, "opening")].map(([opening, few]) => ofOpening(opening, few, site)));
    return box;
  });
}

function ofOpening(id, list, site) {
  const box = copy("here-opening");
  const made = list.find((each) => each.kind === "opening");
  const tag = made?.tag ?? site?.openings.find((each) => each.id === id)?.tag;
  box.querySelector("[data-name]").textContent = tag ?? (id ? words.somewhereOpening : words.ofSite);
  const lost = made?.state === "refused";
  box.querySelector("ul").append(...list.map((each) => answered(copy("here-entry"), each, { words, say, tookBack, draw, lost })));
  return box;
}

function others(list) {
  return [...grouped(list, "author")].map(([name, some]) => {
    const line = document.createElement("p");
    line.className = "notice";
    line.textContent = filled(counted(words, "others", some.length), { name });
    return line;
  });
}

function tellNotes(notes) {
  by("here-notes").hidden = !notes.length;
  by("here-notes").querySelector("ul").replaceChildren(...notes.map(({ why }) => {
    const line = document.createElement("li");
    line.textContent = why;
    return line;
  }));
}

// Undo

let done = null;

function tookBack(found, text) {
  done = found;
  by("here-undo").hidden = !found;
  if (found) by("here-undo").querySelector("[data-words]").textContent = filled(found.gone ? words.gone : words.against, { words: text });
}

by("here-undo").querySelector("button").addEventListener("click", async () => {
  if (done) await undoTakeBack(done);
  tookBack(null);
});

page.querySelector("[data-send]").addEventListener("click", () => send(true));
page.querySelector("[data-read]").addEventListener("click", async () => {
  const who = await person();
  await keepNote("said", ((await note("said")) ?? []).filter((each) => each.person !== who?.id));
  draw();
});

// Files

by("here-save").addEventListener("click", async () => {
  try {
    const links = (await files()).map(link);
    by("here-files").replaceChildren(...links);
    if (links.length === 1) links[0].click();
    say(links.length === 1 ? words.saved : words.files);
  } catch {
    say(words.unsaved);
  }
});

// How long it is kept

async function tellPersist() {
  const able = navigator.storage?.persist && !(await navigator.storage.persisted());
  by("here-persist").hidden = !able;
}

by("here-persist").addEventListener("click", async () => {
  await navigator.storage.persist();
  location.reload();
});

const look = () => draw().catch(() => { by("here-headline").textContent = by("here-headline").dataset.broken; });
onChange(look);
look();
tellPersist().catch(() => {});
