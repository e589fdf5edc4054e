// The question in front: as the door before with one tap, or one fact with large keys.
import { open, mode, withMetres } from "../../keys.js";
import { readHere } from "../evaluating.js";
import { inBoth } from "../lengths.js";
import { allTheSame, sameHere } from "./before.js";
import { headsAt, isAnswered, rowAt, rowsOf } from "./door.js";
import { el, key } from "./draw.js";
import { about, draft, keepDraft, now, tellStatus, write } from "./now.js";
import { answered } from "./says.js";
import { book, fromInWords, rowInWords, rowTitle, say, shown } from "./words.js";

const view = { door: "", row: null, oneByOne: false };

// Ask for this row, whatever was said of it; without one, for the next that nobody has answered.
export function ask(path = null) {
  view.row = path;
}

export function question(door, like) {
  if (view.door !== door.id) Object.assign(view, { door: door.id, row: null, oneByOne: false });
  const rows = rowsOf(book, door, like);
  const same = like && !view.oneByOne && !view.row ? sameHere(book, like, door) : [];
  if (same.length) return asBefore(door, like, same);
  const row = rows.find((each) => each.path === view.row) ?? rows.find((each) => !isAnswered(rowAt(book, door, each)));
  return row ? card(door, like, row) : el("section", { class: "question ask" }, heading(say("factsDone")));
}

const heading = (words) => el("h2", { id: "asked", tabindex: "-1", "data-first": "" }, words);

function asBefore(door, like, same) {
  const told = same.map(({ row, found }) => `${rowTitle(row)}: ${rowInWords(row, found)}`);
  const all = async () => {
    await write(allTheSame(book, same, door, about(door)), `${door.tag}: ${say("sameSaid", { tag: like.tag })}`);
    toTheTop();
  };
  const one = () => { view.oneByOne = true; redrawn(); };
  return el(
    "section", { class: "question ask" }, heading(say("as", { tag: like.tag })),
    el("ul", { class: "told-there" }, ...told.map((each) => el("li", {}, each))),
    key("same", all, { class: "main" }, say("same")),
    el("p", { class: "row" }, key("differs", one, { class: "grow" }, say("differs"))),
  );
}

let redrawn = () => {};
export const whenTurned = (run) => { redrawn = run; };

// What is asked stands always at the same place.
function toTheTop() {
  document.getElementById("walk").scrollIntoView();
  document.getElementById("asked")?.focus({ preventScroll: true });
}

function card(door, like, row) {
  const found = rowAt(book, door, row);
  const there = like ? rowAt(book, like, rowThere(like, row)) : { state: "open" };
  const value = there.state === "open" || there.state === "unknown" ? "" : rowInWords(row, there);
  const keep = async (answer, words) => {
    view.row = null;
    const made = answered(book, door, row, answer, about(door)).map((each) => ({ ...each, title: rowTitle(row), shown: words }));
    const kept = await write(made, say("said", { tag: door.tag, title: rowTitle(row), value: words }));
    toTheTop();
    return kept;
  };
  const asked = row.ask || rowTitle(row);
  return el(
    "section", { class: "question ask", "data-row": row.path }, heading(asked),
    found.state === "open" ? null : el("p", { class: "now" }, el("strong", {}, readings(door, row, found)), " ", el("span", { class: "from" }, fromInWords(found))),
    value ? el("p", { class: "why" }, say("there", { tag: like.tag, value: [value, fromInWords(there)].filter(Boolean).join(" – ") })) : null,
    row.entry === "length" ? length(door, row, value && there.head.typed, keep) : choices(row, there, like, keep),
    el("p", { class: "also row" }, key("unknown", () => keep({ says: "unknown" }, say("unknownSaid")), { class: "dont" }, say("unknown")), row.none && row.entry !== "wires" ? key("none", () => keep({ says: "none" }, say("nothingSaid")), { class: "dont" }, say("nothing")) : null),
  );
}

// What stands of a row; where two differ, both with who said it.
function readings(door, row, found) {
  if (found.state !== "differs" || row.entry === "devices") return rowInWords(row, found);
  return headsAt(door, row.path).map((each) => say("by", { word: shown(row, each), name: each.by || each.author || "" })).join("; ");
}

// The same row at the door before, whose edge may be called otherwise.
function rowThere(like, row) {
  return row.entry === "wires" ? rowsOf(book, like).find((each) => each.entry === "wires") ?? row : row;
}

const UNIT = /\d.*(?:ft|in|m|'|"|′|″|’|”)\.?$/i;

const DEVICES = [["edge", true, false], ["eye", false, true], ["both", true, true], ["neither", false, false]];

function choices(row, there, like, keep) {
  const known = there.state === "known";
  const options = row.entry === "devices"
    ? DEVICES.map(([name, edge, eye]) => [name, say(name), { edge, eye }, known && there.edges.length > 0 === edge && there.eyes.length > 0 === eye])
    : row.choices.map(([word, words]) => [word, words, { typed: word }, known && there.head.typed === word]);
  if (row.entry === "wires") options.push(["none", say("noWires"), { says: "none" }, known && there.head.says === "none"]);
  return el("div", { class: "choices two" }, ...options.map(([name, words, answer, same]) => key(
    `say-${name}`, () => keep(answer, words), {}, el("span", {}, words, same ? el("small", {}, ` ${say("like", { tag: like.tag })}`) : ""),
  )));
}

function length(door, row, value, keep) {
  const typed = draft(door.id, row.path);
  const input = el("input", { id: "length", value: typed, "data-entry": "length", autocapitalize: "off", spellcheck: "false", autocomplete: "off", inputmode: "none", enterkeyhint: "done", "aria-describedby": "length-read" });
  const told = { units: now.told.site.units };
  const line = el("output", { class: "readback", id: "length-read", for: "length" });
  const look = () => readBack(row.path, input, line, told);
  input.addEventListener("input", () => { keepDraft(door.id, row.path, input.value); look(); });
  input.addEventListener("focus", () => open(input, told, look));
  const done = async () => {
    const text = typedIn(input, told);
    if (!UNIT.test(text)) return tellStatus(say("unit"));
    if (await keep({ typed: text }, text)) keepDraft(door.id, row.path, "");
    return undefined;
  };
  const field = el(
    "form", { class: "field", onsubmit: (event) => { event.preventDefault(); done(); } },
    value ? key("same-measured", () => keep({ typed: value }, value), { class: "tall" }, say("sameMeasured", { value })) : null,
    el("label", { for: "length" }, say("value")),
    el("div", { class: "row entry" }, input, el("button", { class: "main", id: "keep" }, say("keep"))), line, el("div", { class: "pad" }),
  );
  queueMicrotask(() => { if (input.isConnected) open(input, told, look); }); // the pad is there without a tap
  if (typed) look();
  return field;
}

// As it is kept: a bare number is in metres where the pad is.
const typedIn = (input, told) => (mode(told) === "metric" ? withMetres(input.value) : input.value).trim();

// What is typed, in both systems of units, or that it cannot be used, before it is kept.
async function readBack(path, input, line, told) {
  const text = typedIn(input, told);
  const found = UNIT.test(text) ? await readHere(path, text).catch(() => null) : null;
  if (text !== typedIn(input, told)) return; // typed on meanwhile
  const kind = found?.wrong ? "wrong" : found?.doubtful ? "doubtful" : "";
  line.className = `readback ${kind && `is-${kind}`}`;
  const words = found && found.metres !== null ? inBoth(found.metres, told.units) : "";
  line.textContent = kind === "wrong" ? say("unread") : kind === "doubtful" ? say("twoWays", { value: words }) : words;
}

// The rows as lines: what was said, and what it was at the door before; a tap asks for it again.
export function lines(door, like) {
  return el("ul", { class: "rows" }, ...rowsOf(book, door, like).map((row) => {
    const found = rowAt(book, door, row);
    const words = found.state === "open" ? say("open") : rowInWords(row, found);
    const turn = () => { ask(row.path); redrawn(); toTheTop(); };
    return el("li", {}, key(`row-${row.path}`, turn, { class: `plain line ${isAnswered(found) ? "" : "lacking"}` }, el("span", {}, `${rowTitle(row)}: `, el("b", {}, words)), el("span", { class: "from" }, fromInWords(found))));
  }));
}
