// What waits here of a page's facts, laid over its cards: the value as it was written, and that it is on this phone only.
import { empty, headOf, withOne } from "./heads.js";
import { readHere } from "./evaluating.js";
import { entries, flying, onChange, site } from "./outbox.js";
import { filled, moment } from "./words.js";

const laid = new Map(); // what lies on which fact's card, as one word
let turn = 0;

// Keep the cards of a page in step with what waits; answers with what looks again. `sent` is told of
// a fact whose entry has left this device, `again` of a card whose answer was refused.
export function overlay(told, hooks) {
  const draw = () => drawn(told, hooks);
  onChange(draw);
  return draw;
}

// A card that was drawn anew by the server has nothing on it.
export function forget(fact) {
  laid.delete(fact);
}

async function drawn(told, hooks) {
  const mine = ++turn;
  const all = await waiting(told).catch(() => []);
  const kept = all.length ? await site(told.site).catch(() => null) : null;
  if (mine !== turn) return;
  const facts = new Map();
  for (const each of all) facts.set(each.fact, [...(facts.get(each.fact) ?? []), each]);
  for (const fact of new Set([...laid.keys(), ...facts.keys()])) {
    const card = document.getElementById(`f-${fact}`);
    const list = facts.get(fact) ?? [];
    const word = list.map((each) => `${each.id} ${each.state} ${each.later ?? ""}`).join();
    if (!card || (laid.get(fact) ?? "") === word) continue;
    lift(card);
    if (list.length) {
      laid.set(fact, word);
      await lay(card, list, registerOf(told, kept, fact), told, hooks);
    } else {
      laid.delete(fact);
      hooks.sent(fact);
    }
  }
}

export async function waiting(told) {
  const all = await entries(told.who);
  const here = (each) => each.kind === "observation" && each.site === told.site && (each.opening ?? "") === told.opening;
  return all.filter((each) => here(each) && !flying.has(each.id));
}

// The readings of a fact by what was told last: the page, or the site as it was kept after it.
function registerOf(told, kept, fact) {
  if (!kept || kept.made <= told.made) return null;
  const facts = told.opening ? kept.openings.find((each) => each.id === told.opening)?.facts : kept.site.facts;
  return facts?.[fact] ?? null;
}

async function lay(card, list, register, told, hooks) {
  const page = JSON.parse(card.dataset.before || "[]");
  const waits = list.filter((each) => each.state === "waiting");
  const { heads } = register ?? waits.map(headOf).reduce(withOne, { ...empty(), heads: page });
  const old = new Set(page.map((each) => each.id));
  const holder = document.getElementById("here-card").content.cloneNode(true).firstElementChild;
  const line = holder.querySelector("[data-line]");
  const entryOf = new Map(list.map((each) => [each.id, each]));
  const shown = [...heads.filter((each) => entryOf.has(each.id) || !old.has(each.id)), ...list.filter((each) => each.state === "refused")];
  const lines = await Promise.all(shown.map((each) => lineOf(line.cloneNode(true), list[0].fact, each, entryOf.get(each.id), told)));
  line.replaceWith(...lines);
  const differ = new Set(heads.map((each) => `${each.says} ${each.typed ?? ""}`)).size > 1;
  holder.querySelector("[data-two]").hidden = !differ;
  put(card, holder);
  if (!heads.some((each) => old.has(each.id)) && waits.length) for (const each of card.querySelectorAll(".now, .two")) each.hidden = true;
  if (card.matches("details.told") && waits.length) summary(card, lines[0], differ);
  remember(card, heads);
  const wrong = list.find((each) => each.state === "refused");
  if (wrong) hooks.again(card, wrong);
}

async function lineOf(line, fact, reading, entry, told) {
  const { words, back, mistake } = await inWords(fact, reading, entry, told);
  line.querySelector("[data-value]").textContent = words;
  line.querySelector("[data-where]").textContent = where(reading, entry, told);
  const more = line.querySelector("[data-back]");
  more.textContent = mistake || back;
  more.classList.toggle("wrong", Boolean(mistake));
  more.hidden = !more.textContent;
  return line;
}

async function inWords(fact, reading, entry, told) {
  const plain = entry?.shown || { unknown: told.unknown, none: told.none }[reading.says];
  if (plain) return { words: plain };
  const read = await readHere(fact, reading.typed).catch(() => null);
  return { words: reading.typed, back: read?.back ? `= ${read.back}` : "", mistake: read?.wrong ? told.unread : "" };
}

function where(reading, entry, told) {
  if (!entry) return reading.author ?? "";
  if (entry.state === "refused") return filled(told.refused, { why: entry.why });
  return filled(entry.later ? told.later : told.here, { time: moment(entry.at) });
}

function put(card, holder) {
  const above = card.querySelector(card.matches(".told") ? ":scope > summary" : ":scope > .two, :scope > .now");
  const form = card.querySelector(":scope > form");
  if (above) above.after(holder);
  else if (form) form.before(holder);
  else card.append(holder);
  if (card.matches("details.ask")) card.open = true;
}

// A row says in its own line what stands now.
function summary(card, line, two) {
  const own = card.querySelector("summary > span");
  const made = own.cloneNode(false);
  made.dataset.laid = "";
  const name = document.createElement("span");
  name.className = "name";
  name.textContent = own.querySelector(".name")?.textContent ?? card.dataset.title;
  const [value, from] = ["[data-value]", "[data-where]"].map((each) => line.querySelector(each).cloneNode(true));
  made.append(name, " ", value, " ", from);
  if (two) made.append(" ", document.getElementById("here-card").content.querySelector("[data-two]").textContent);
  own.hidden = true;
  own.after(made);
}

// What is answered next replaces what is shown now, and undoing brings it back.
function remember(card, heads) {
  card.dataset.told ??= card.dataset.before ?? "";
  card.dataset.before = JSON.stringify(heads);
  for (const field of card.querySelectorAll("input[name=seen]")) {
    field.dataset.told ??= field.value;
    field.value = heads.map((each) => each.id).join(",");
  }
}

function lift(card) {
  for (const each of card.querySelectorAll("[data-laid]")) each.remove();
  for (const each of card.querySelectorAll(".now, .two, summary > span")) each.hidden = false;
  if (card.dataset.told !== undefined) {
    card.dataset.before = card.dataset.told;
    delete card.dataset.told;
  }
  for (const field of card.querySelectorAll("input[name=seen]")) {
    field.value = field.dataset.told ?? field.value;
    delete field.dataset.told;
  }
}
