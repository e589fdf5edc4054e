// The first questions of a call without a network: what is answered stays on this phone, and the call opens with it
// when there is a network again. The page stands in for any page of a call, whose address is kept as it is.
import { keepNote, note } from "./offline/store.js";
import { when } from "./offline/told.js";

const NOTE = "trouble first";
const EVERY = 10_000; // ms between looks for a network
const PATIENCE = 5000;

const form = document.getElementById("first");
const said = document.getElementById("first-say");
const { call, offline, here, kept, lost, back } = form.dataset;
const { tree, texts } = JSON.parse(form.dataset.tree);
const asks = new Map([...form.querySelectorAll("[data-question]")].map((each) => [each.dataset.question, each]));
const status = document.getElementById("first-status");
const inPlace = location.pathname !== new URL(form.action).pathname; // of a page that the network did not bring
let waiting = inPlace;
let since = null;

const asked = new Set(); // questions that are open or answered; others do not count
const counts = (name) => !name.startsWith("harm.") || asked.has(name.slice(5));
const fields = () => [...new FormData(form)].filter(([name, value]) => value && counts(name));

// Questions one after the other, as far as they are answered, and what is said by now.
function walk() {
  let at = tree;
  const before = [];
  while (at.ask) {
    before.push(at.ask);
    const answer = form.elements[`harm.${at.ask}`].value;
    if (!answer) break;
    at = at.to[answer];
  }
  asked.clear();
  for (const each of before) asked.add(each);
  for (const [name, fieldset] of asks) fieldset.hidden = !asked.has(name);
  form.querySelector("[data-rest]").hidden = Boolean(at.ask || at.stays);
  const box = document.createElement("div");
  box.className = at.stays || (at.ask && at.say.length > 1) ? "finding stop" : "caution";
  box.append(...at.say.map((number) => Object.assign(document.createElement("p"), { textContent: texts[number] })));
  said.replaceChildren(...(before.length > 1 || !at.ask ? [box] : []));
}
const say = (words) => { status.textContent = words; };

// The address of the call: what it was, with what is answered here.
function address() {
  const query = new URLSearchParams(inPlace ? location.search : "");
  for (const [name, value] of fields()) {
    if (name === "who" || name === "symptom") query.set(name, value);
    else put(query, ...name.split("."), value);
  }
  if (!query.has("t")) query.set("t", Math.floor((since ?? Date.now()) / 1000));
  return `${call}?${query}`;
}

// One answer of several under the same name, in the place of the one before.
function put(query, kind, name, value) {
  const told = query.getAll(kind).filter((each) => !each.startsWith(`${name}:`));
  query.delete(kind);
  for (const each of [...told, `${name}:${value}`]) query.append(kind, each);
}

function show(told) {
  for (const [name, value] of told) {
    const field = form.elements[name];
    if (field instanceof RadioNodeList || field instanceof HTMLSelectElement) field.value = value;
    else if (field?.value === value) field.checked = true;
  }
}

// What the address tells already is marked here.
function told() {
  const query = new URLSearchParams(location.search);
  const pairs = ["harm", "a"].flatMap((kind) => query.getAll(kind).map((each) => [`${kind}.${each.split(":")[0]}`, each.split(":")[1]]));
  return [...pairs, ...["who", "symptom"].flatMap((name) => (query.has(name) ? [[name, query.get(name)]] : []))];
}

async function remember() {
  since ??= Date.now();
  try {
    await keepNote(NOTE, { since, address: address(), answers: fields() });
    say(kept.replace("{time}", when(since)));
  } catch { say(lost); } // a private window of some browsers
}

async function network() {
  try {
    const answer = await fetch(offline, { method: "HEAD", cache: "no-store", signal: AbortSignal.timeout(PATIENCE) });
    return answer.ok;
  } catch { return false; }
}

async function go() {
  if (!(await network())) return false;
  await keepNote(NOTE, null).catch(() => {});
  location.replace(address());
  return true;
}

async function look() {
  if (waiting) await go();
  else if (since) say(((await network()) ? back : kept).replace("{time}", when(since)));
}

form.addEventListener("change", () => { walk(); remember(); });
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  waiting = true;
  await remember();
  if (!(await go())) say(here.replace("{time}", when(since)));
});
addEventListener("online", look);
setInterval(look, EVERY);

async function begin() {
  const before = inPlace ? null : await note(NOTE).catch(() => null);
  since = before?.since ?? null;
  show(before?.answers ?? told());
  walk();
  if (inPlace) {
    await remember();
    say(here.replace("{time}", when(since)));
  } else if (since) say(kept.replace("{time}", when(since)));
}

begin();
