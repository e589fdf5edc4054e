// What facts of an opening may be, and what their words say.
import { folded } from "../text.js";

// The fact at a path outside lists.
export const factAt = (opening, path) => path.split(".").reduce((group, name) => group.get(name), opening);

// Every value that a fact may have: its own, or those of its readings that do not agree.
export const valuesOf = (fact) => [fact.value, ...fact.rivals].filter((value) => value !== null);

// Whether the words of a fact hold a pattern of the book, whichever case they are written in.
export function holds({ alike }, pattern, words) {
  return pattern.test([...(words ?? "")].map((sign) => alike[sign] ?? sign).join(""));
}

// Words without regard to case, as the server folds them.
export const plainly = ({ folds }, words) => folded([...words].map((sign) => folds[sign] ?? sign).join(""));

// The patterns of the take-off, ready to use; those that replace go through a whole text.
const READY = new WeakMap();

export function patternsOf(table) {
  if (!READY.has(table)) {
    const found = Object.entries(table.patterns).map(([name, parts]) => [name, new RegExp(...parts)]);
    READY.set(table, Object.fromEntries(found));
  }
  return READY.get(table);
}

// Whether a leaf is a vehicular gate.
export function isGate(table, opening) {
  const { value, rivals } = opening.get("door").get("kind");
  const gate = (kind) => table.gates.includes(kind);
  return gate(value) || (rivals.length > 0 && rivals.every(gate));
}
