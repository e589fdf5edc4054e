// A call without a network: the questions that keep people from harm, then the fixed list of the complaint, one
// question a screen. The address of the page is the call, as it is with a network: the way back takes back the last
// answer, a page that is loaded anew stands where it stood, and the call opens with every answer. The page stands in
// for any page of a call that the network did not bring.
import { about, when } from "./offline/told.js";
import { leave, put, readable, told } from "./trouble.address.js";
import { calls, dropCall, keepCall } from "./trouble.calls.js";
import { show as showList } from "./trouble.list.js";

const EVERY = 10_000; // ms between looks for a network
const PATIENCE = 5000;

const byId = (id) => document.getElementById(id);
const form = byId("first");
const said = byId("first-say");
const headline = byId("first-headline");
const { call, offline } = form.dataset;
const { tree, texts } = JSON.parse(form.dataset.tree);
const book = JSON.parse(form.dataset.book);
const asks = new Map([...form.querySelectorAll("[data-question]")].map((each) => [each.dataset.question, each]));
const title = headline.textContent;
const callPath = new URL(call, location.href).pathname;
const inPlace = () => location.pathname === callPath; // of a page that the network did not bring

let query = new URLSearchParams();
let since = null; // when the first answer of this page was kept
let waiting = false; // it opens by itself: nobody has answered anything on this page
let listed = false; // the list is shown
let back = false; // there is a network
let lost = false; // nothing is kept in this window

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
  return { open: Boolean(at.ask), stays: Boolean(at.stays) };
}

// The call with what the form says; answers that only somebody else can give stay behind.
function take() {
  const open = new Map(fields());
  for (const each of ["change", "left", "who", "symptom"]) query.delete(each);
  leave(query, "harm", (name) => open.has(`harm.${name}`));
  for (const [name, value] of open) {
    if (name === "who" || name === "symptom") query.set(name, value);
    else put(query, "harm", name.slice(5), value);
  }
  const rank = book.who.indexOf(query.get("who"));
  if (rank >= 0) leave(query, "a", (name) => !Object.hasOwn(book.tests, name) || book.who.indexOf(book.tests[name].who) <= rank);
}

// What the address tells is marked in the form.
function mark() {
  for (const field of form.querySelectorAll("input")) field.checked = false;
  form.elements.symptom.value = query.get("symptom") ?? "";
  const harm = [...told(query, "harm")].map(([name, value]) => [`harm.${name}`, value]);
  for (const [name, value] of [...harm, ["who", query.get("who")]]) {
    const field = form.elements[name];
    if (value && field instanceof RadioNodeList) field.value = value;
  }
}

const ofAddress = (search = location.search) => readable(new URLSearchParams(search), {
  ...book, symptoms: [...form.elements.symptom.options].map((each) => each.value), harm: [...asks.keys()],
});
const began = () => query.get("t");
const address = () => `${call}?${query}`;

// The state as the address of this page, and on the disk; a new entry of the way back where something was answered.
async function remember(state = null) {
  since ??= Date.now();
  if (!began()) query.set("t", Math.floor(since / 1000));
  if (state) history.pushState(state, "", address());
  else history.replaceState(history.state, "", address());
  try {
    await keepCall({ began: began(), since, address: address() });
    lost = false;
  } catch { lost = true; }
  status();
}

function status() {
  const all = listed ? byId("list").dataset : form.dataset;
  const told = lost ? all.lost : back ? all.back : listed || waiting ? all.here : since ? all.kept : null;
  const line = byId(listed ? "list-status" : "first-status");
  if (told) line.textContent = about(told, { time: when(since ?? Date.now()) });
}

async function network() {
  try {
    const answer = await fetch(offline, { method: "HEAD", cache: "no-store", signal: AbortSignal.timeout(PATIENCE) });
    return answer.ok;
  } catch { return false; }
}

// Open the call where there is a network.
async function go() {
  back = await network();
  if (!back) return false;
  await dropCall(began());
  history.replaceState(null, "", address()); // where this page stands in once more, it opens by itself
  location.replace(address());
  return true;
}

async function look() {
  if (!waiting && since === null) return;
  if (waiting) return void (await go());
  back = await network();
  status();
}

// The list, or the first questions, as far as the address has come.
function render(first = false) {
  mark();
  const { open, stays } = walk();
  const far = query.has("left") && (query.has("symptom") || history.state?.list);
  listed = !open && !stays && book.who.includes(query.get("who")) && Boolean(far) && !first;
  byId("first-part").hidden = listed;
  byId("list").hidden = byId("list-more").hidden = !listed;
  (listed ? byId("list") : byId("first-part")).insertBefore(headline, listed ? byId("list-how") : byId("first-status"));
  if (listed) renderList();
  else headline.textContent = title;
  status();
}

function renderList() {
  const ask = Object.hasOwn(book.tests, history.state?.ask ?? "") ? history.state.ask : undefined;
  const { answered, asked: now } = showList(book, query, ask, { answer, change });
  const at = answered.indexOf(now);
  const before = at < 0 ? answered.at(-1) : answered[at - 1];
  byId("list-before").hidden = !before;
  byId("list-before").onclick = () => change(before);
}

// The question comes into view, and whoever listens hears it.
function turn() {
  scrollTo(0, 0);
  headline.focus({ preventScroll: true });
}

async function answer(test, outcome) {
  waiting = false;
  put(query, "a", test, outcome);
  const kept = remember({ list: true });
  render();
  turn();
  await kept;
}

function change(test) {
  waiting = false;
  history.pushState({ ask: test, list: true }, "", address());
  render();
  turn();
}

form.addEventListener("change", () => { waiting = false; walk(); take(); remember({}); });
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const { open, stays } = walk();
  take();
  if (await go()) return;
  if (!open && !stays && book.who.includes(query.get("who"))) {
    query.set("left", "1"); // how it is left stands over the button
    const kept = remember({ list: true });
    render();
    turn();
    await kept;
    return;
  }
  waiting = true;
  await remember();
  if (!open && !stays) byId("first-status").textContent = form.dataset.who;
});
byId("list-first").addEventListener("click", () => { history.pushState({ first: true }, "", address()); render(true); turn(); });
byId("list-open").addEventListener("click", async () => {
  if (!(await go())) status();
});
addEventListener("popstate", () => {
  query = ofAddress();
  render(Boolean(history.state?.first));
});
addEventListener("online", look);
setInterval(look, EVERY);

// Other calls that wait on this phone, by the moment in which they were begun here.
function showOthers(all) {
  const box = byId("other-calls");
  const list = box.querySelector("ul");
  const row = list.querySelector("template");
  const others = all.filter((each) => each.began !== began() && each.address.startsWith(`${callPath}?`));
  list.append(...others.map((each) => {
    const item = row.content.firstElementChild.cloneNode(true);
    const link = item.querySelector("a");
    link.href = each.address;
    link.textContent = about(link.dataset.since, { time: when(each.since) });
    return item;
  }));
  box.hidden = !others.length;
}

async function begin() {
  const kept = await calls();
  if (inPlace()) {
    query = ofAddress();
    since = kept.find((each) => each.began === began())?.since ?? null;
    waiting = history.state === null;
  } else if (kept.length) {
    ({ since } = kept[0]);
    query = ofAddress(kept[0].address.split("?")[1]);
    history.replaceState({ list: query.has("left") }, "", address());
  }
  render(Boolean(history.state?.first));
  showOthers(kept);
  if (inPlace() && since === null) await remember();
  if (!waiting) return void (await look());
  back = await network(); // a server that only took too long: what it says is right, and it opens at the next look
  status();
}

begin();
