// What a form says, read as the server would read it (taking/saying.py): what is sent twice has to be the same twice.

// The server knows a few more spaces.
export const bare = (text) => (text ?? "").replace(/^[\s\x1c-\x1f\x85]+|[\s\x1c-\x1f\x85]+$/gu, "");
const LINES = /\r\n|[\n\v\f\r\x1c-\x1e\x85\u2028\u2029]/u;
export const ids = (text) => (text ?? "").split(",").map(bare).filter(Boolean);

// The readings that a card shows, as they were written.
export function before(form, fact) {
  const card = document.getElementById(`f-${fact}`) ?? form?.closest("[data-before]");
  return JSON.parse(card?.dataset.before || "[]");
}

// What a form says when this button is pressed: the fields of an observation, and its value in words where it was
// chosen by one tap.
export function said(form, button) {
  const data = Object.fromEntries(new FormData(form));
  const { fact } = data;
  const seen = ids(data.seen);
  const here = before(form, fact);
  if (button?.name === "take") {
    const told = button.dataset.told ? JSON.parse(button.dataset.told) : here.find((each) => each.id === button.value);
    return { ...again({ ...told, fact }), replaces: seen, before: here };
  }
  const says = button?.name === "says" ? button.value : "value";
  const chosen = button?.name === "choose";
  return {
    fact,
    says,
    typed: says === "value" ? typed(form, data, chosen ? button.value : "") : "",
    origin: says === "unknown" ? "" : data.origin ?? "", // nobody measured what nobody knows
    by: bare(data.by),
    on: bare(data.on),
    evidence: bare(data.evidence),
    replaces: seen,
    before: here,
    shown: chosen || says !== "value" ? bare(button.textContent) : "",
  };
}

function typed(form, data, chosen) {
  const text = chosen || data.typed || "";
  if (!text && bare(data.year)) return day(data);
  if (!chosen && form.elements.typed?.matches("textarea")) return text.split(LINES).map(bare).filter(Boolean).join("; ");
  return bare(text);
}

function day(data) {
  const parts = ["year", "month", "day"].map((name) => bare(data[name]));
  while (parts.length && !parts.at(-1)) parts.pop();
  return parts.map((part) => (/^\d+$/.test(part) ? part.padStart(2, "0") : part)).join("-");
}

// The same once more, as a new observation.
export function again({ fact, says = "value", typed: text = "", origin = "", by = "", on = "", evidence = "" }) {
  return { fact, says, typed: text, origin: says === "unknown" ? "" : origin, by, on, evidence };
}

// What undoes an entry: what its author saw, said again; where nothing stood, that it is not known, or that the device
// which it made is gone. A remark without words takes another one back.
export function undoing(entry) {
  const { kind = "observation", site, opening, title, id } = entry;
  if (kind === "move") return [{ kind, site, opening, title, after: entry.before, before: entry.after }];
  const told = kind === "remark" ? remarksAgainst(entry) : readingsAgainst(entry);
  return told.map((each) => ({ kind, site, opening, title, ...each, replaces: [id] }));
}

function remarksAgainst({ before: seen = [] }) {
  return seen.length ? seen.map(({ says, about, words }) => ({ says, about, words })) : [{ says: "remark", about: "", words: "" }];
}

function readingsAgainst({ fact, says, makes, before: seen = [] }) {
  const told = seen.map((each) => again({ ...each, fact: each.fact ?? fact }));
  const whole = says === "removed" || says === "none";
  if (told.some((each) => each.fact === fact) || (whole && told.length)) return told;
  return [...nothing(fact, makes, told), ...told];
}

// Without its only member a list would say that somebody looked and found none: beside other members this says nothing.
function nothing(fact, makes, told) {
  if (!makes) return [again({ fact, says: "unknown" })];
  const [list, key] = fact.split(".");
  const whole = told.some((each) => each.fact === list) ? [] : [again({ fact: list, says: "unknown" })];
  return [again({ fact: `${list}.${key}`, says: "removed" }), ...whole];
}
