// The fault bench answers at once, and without a network, from a book of all answers that the server computed: what
// is chosen is looked up, words and numbers are shown as they stand there. Without this script the form asks the server.
const bench = document.getElementById("faults");
const form = document.getElementById("faults-form");
const large = document.getElementById("large");
const fields = ["circuit", "hurt", "place", "also", "press"];
const isKept = "kept" in bench.dataset; // the page that stands in where there is no network
const KEYS = 5;
let book = null;

const at = (id) => document.getElementById(id);
const labelled = (name, value) => [...form.elements[name].options].find((each) => each.value === value).text;
const attribute = (kind, name) => bench.getAttribute(`data-${kind}-${name}`);
const say = (name, told = {}) => attribute("say", name).replace(/\{(\w+)\}/g, (whole, key) => told[key] ?? whole);
const element = (tag, text, className = "") => Object.assign(document.createElement(tag), { textContent: text, className });

// What is chosen: a second fault without a first one is the first.
function chosen() {
  const told = Object.fromEntries(fields.map((name) => [name, form.elements[name].value]));
  const hurts = told.hurt ? [`${told.hurt}@${told.place}`, told.also] : [told.also, ""];
  return { ...told, hurts, count: hurts.filter(Boolean).length };
}

const viewOf = (circuit, [first, second]) => book.views[book.answers[circuit][first]?.[second]];

function fault(name, number, { hurt }) {
  if (number || !hurt) return labelled("also", name);
  const [what, where] = name.split("@");
  return say("fault", { what: labelled("hurt", what), where: labelled("place", where) });
}

// Why a circuit cannot be hurt so; nothing where it can.
function refusal(told) {
  const there = book.answers[told.circuit];
  const circuit = labelled("circuit", told.circuit);
  for (const [number, name] of told.hurts.entries()) {
    if (name in there) continue;
    if (book.board[told.circuit].includes(name)) return say("board");
    if (number) return say("besides", { circuit, fault: fault(name, number, told) });
    const [kind, place] = name.split("@");
    const places = Object.keys(there).filter((each) => each.startsWith(`${kind}@`)).map((each) => labelled("place", each.split("@")[1]));
    const words = { circuit, what: labelled("hurt", kind), where: labelled("place", place), places: places.join(", ") };
    return say(places.length ? "elsewhere" : "nowhere", words);
  }
  if (viewOf(told.circuit, told.hurts)) return "";
  return say("together", { one: fault(told.hurts[0], 0, told), other: fault(told.hurts[1], 1, told) });
}

function showAnswer(told, spot) {
  const [pattern, volts, meter] = viewOf(told.circuit, told.hurts);
  const found = book.patterns[pattern];
  const way = Object.keys(book.presses).indexOf(told.press);
  at("operator").textContent = book.operator[found.reads[spot === null ? 0 : spot + 1]];
  at("outcome").textContent = say(["sound", "one", "two"][told.count], found);
  at("alone").replaceChildren(...(told.count < 2 ? [] : told.hurts.map((name, number) => {
    const own = book.patterns[viewOf(told.circuit, [name, ""])[0]];
    return element("p", say("alone", { fault: fault(name, number, told), ...own }), "small");
  })));
  for (const [number, item] of [...at("spots").children].entries()) {
    const letter = found.reads[number + 1];
    item.dataset.felt = letter;
    item.toggleAttribute("data-pressed", number === spot);
    item.querySelector(".unseen").textContent = attribute("felt", letter);
  }
  const [first] = at("ends").rows;
  first.cells[1].textContent = book.volts[volts][way];
  at("ends").replaceChildren(first, ...book.meters[meter].map((column, number) => {
    const row = document.createElement("tr");
    row.append(Object.assign(element("th", book.ways[told.circuit][number]), { scope: "row" }), element("td", book.columns[column][way], "number"));
    return row;
  }));
}

function showOthers(told, spot) {
  for (const row of at("same").tBodies[0].rows) {
    const { circuit } = row.dataset;
    const view = viewOf(circuit, told.hurts);
    const found = view && book.patterns[view[0]];
    const press = (letter) => (spot === null || found.stands ? "–" : attribute("felt", letter));
    const cells = found ? [told.count ? found.seen : "–", found.share, press(found.reads[(spot ?? 0) + 1])] : [say("not_here"), "–", "–"];
    for (const [number, words] of cells.entries()) row.cells[number + 1].textContent = words;
    row.toggleAttribute("data-lost", Boolean(found?.lost));
    row.ariaCurrent = circuit === told.circuit ? "true" : null;
  }
}

function refuse(...reasons) {
  at("wrong").replaceChildren(...reasons.map((each) => element("p", each, "wrong")));
  for (const each of bench.querySelectorAll("[data-answer]")) each.hidden = reasons.length > 0;
}

function show() {
  const told = chosen();
  const spot = book.presses[told.press];
  const wrong = refusal(told);
  refuse(...(wrong ? [wrong] : []));
  if (wrong) return;
  showAnswer(told, spot);
  showOthers(told, spot);
}

// The address is the state of the page.
function remember() {
  const query = new URLSearchParams(new FormData(form));
  history.replaceState(null, "", `${form.getAttribute("action")}?${query}`);
  size();
}

function size() {
  const query = new URLSearchParams(new FormData(form));
  if (query.has("large")) query.delete("large");
  else query.set("large", "1");
  large.search = query;
}

const teaches = () => form.elements.trainer?.checked; // parts at the board come from the server alone

form.addEventListener("change", (event) => {
  if (!book || teaches() || event.target.name === "trainer") form.requestSubmit();
  else {
    show();
    remember();
  }
});

// What the address tells is chosen here; whatever is not known is said.
function take() {
  const query = new URLSearchParams(location.search);
  const unknown = [];
  for (const name of fields.filter((each) => query.has(each))) {
    const field = form.elements[name];
    const values = [...(field.options ?? field)].map((each) => each.value);
    if (values.includes(query.get(name))) field.value = query.get(name);
    else unknown.push(say("unknown", { name: attribute("name", name), value: query.get(name).slice(0, 40) }));
  }
  if (query.get("large") === "1") {
    document.querySelector("main").classList.add("large");
    form.append(Object.assign(element("input"), { type: "hidden", name: "large", value: "1" }));
    large.textContent = large.dataset.smaller;
  }
  return unknown;
}

// A digit goes to a choice, Esc leaves it.
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === "Escape") document.activeElement.blur();
  const number = Number(event.key);
  if (!(number >= 1 && number <= KEYS) || document.activeElement.tagName === "SELECT") return;
  const field = form.elements[fields[number - 1]];
  (field.options ? field : [...field].find((each) => each.checked)).focus();
  event.preventDefault();
});

async function begin() {
  const unknown = isKept ? take() : [];
  try {
    const answer = await fetch(bench.dataset.book);
    if (!answer.ok) throw new Error(answer.status);
    book = await answer.json();
    form.querySelector("button.main").hidden = true;
    if (isKept) show();
  } catch {
    if (isKept) unknown.push(say("no_book"));
  }
  if (unknown.length) refuse(...unknown);
  size();
  bench.hidden = false;
}

begin();
