// The fixed list of a complaint, for a phone without a network: what is asked next, and its page. Nothing is weighed:
// the book says what is asked, of whom, in which order, and after which answer nobody goes on.
import { told } from "./trouble.address.js";
import { about } from "./offline/told.js";

const byId = (id) => document.getElementById(id);
const words = (id, said) => { byId(id).textContent = said ?? ""; };
const steps = (all) => all.map((each) => Object.assign(document.createElement("li"), { textContent: each }));

// What a list says of a call, by its address.
export function listOf(book, query) {
  const symptom = query.get("symptom") ?? "";
  const own = (table) => (Object.hasOwn(table, symptom) ? table[symptom] : undefined);
  const answers = told(query, "a");
  const facts = new Map([...told(query, "f"), ...Object.entries(own(book.tells) ?? {})]);
  const harm = told(query, "harm");
  const once = new Set(Object.entries(book.once).flatMap(([name, by]) => by[harm.get(name)] ?? []));
  const stops = { ...book.stops, ...own(book.stops_of) };
  const may = (test) => book.who.indexOf(query.get("who")) >= book.who.indexOf(book.tests[test].who);
  const out = (test) => Object.entries(book.tests[test].unless ?? {}).some(([fact, values]) => values.includes(facts.get(fact)));
  const all = [...book.harm, ...(own(book.lists) ?? [])].filter((each) => may(each) && !out(each) && !once.has(each));
  const answered = [...answers.keys()].filter((each) => Object.hasOwn(book.tests, each));
  return {
    all, answers, answered,
    next: all.find((each) => !answers.has(each)),
    stopped: answered.some((each) => stops[each]?.includes(answers.get(each))),
    outOfService: book.out.includes(symptom),
    listed: Boolean(own(book.lists)),
  };
}

// What an answer says in words.
function said(test, outcome, unknown) {
  return test.says.find(([id]) => id === outcome)?.[1] ?? unknown;
}

function answerButton(text, plain, current, press) {
  const item = document.createElement("li");
  if (plain) item.className = "plain";
  const button = Object.assign(document.createElement("button"), { type: "button", className: "button", textContent: text });
  if (current) button.setAttribute("aria-current", "true");
  button.addEventListener("click", press);
  item.append(button);
  return item;
}

// Show one question, or the end of the list. `ask`: the one that is asked anew; `answer(test, outcome)` and
// `change(test)` are what presses come to.
export function show(book, query, ask, { answer, change }) {
  const found = listOf(book, query);
  const page = byId("list").dataset;
  const stopped = found.stopped && !ask;
  const asked = ask ?? (found.stopped ? undefined : found.next);
  const test = asked && book.tests[asked];
  const place = { number: found.all.indexOf(asked) + 1, all: found.all.length };
  words("list-place", place.number ? about(page.place, place) : "");
  words("first-headline", test ? test.asks : stopped ? page.stop : page.done);
  words("list-how", test ? test.how : stopped ? "" : found.listed ? page.rest : page.none);
  words("list-takes", test?.takes);
  const cautions = [
    ...(found.stopped ? [book.stopped] : []),
    ...(found.outOfService ? [book.out_of_service] : []),
    ...(test?.cautions ?? []),
  ];
  byId("list-cautions").hidden = !cautions.length;
  byId("list-cautions").className = found.stopped ? "finding stop" : "caution";
  byId("list-cautions").firstElementChild.replaceChildren(...steps(cautions));
  const given = found.answers.get(asked);
  byId("list-answers").classList.toggle("list", (test?.says.length ?? 0) > 4);
  byId("list-answers").replaceChildren(...(test ? [
    ...test.says.map(([id, text]) => answerButton(text, false, given === id, () => answer(asked, id))),
    answerButton(page.unknown, true, given === "-", () => answer(asked, null)),
  ] : []));
  showTold(book, found, page.unknown, change);
  return { ...found, asked };
}

function showTold(book, found, unknown, change) {
  const box = byId("list-told");
  box.hidden = !found.answered.length;
  box.querySelector("summary").textContent = about(box.dataset.count, { count: found.answered.length });
  const list = box.querySelector("ul");
  const row = list.querySelector("template");
  list.replaceChildren(row, ...found.answered.map((name) => {
    const item = row.content.firstElementChild.cloneNode(true);
    const test = book.tests[name];
    item.querySelector("[data-asks]").textContent = test.asks;
    item.querySelector("[data-says]").textContent = said(test, found.answers.get(name), unknown);
    item.querySelector(".unseen").textContent = ` ${test.asks}`;
    item.querySelector("[data-change]").addEventListener("click", () => change(name));
    return item;
  }));
}
