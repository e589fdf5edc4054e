// What is known of one door, from the registers that a phone keeps. Pure: the page draws what these say.
import { standing } from "../heads.js";

const read = new WeakMap(); // a door as it was read, until it changes

// The readings that stand, by path.
export function toldOf(door) {
  if (!read.has(door)) read.set(door, standing(door.facts));
  return read.get(door);
}

export const headsAt = (door, path) => toldOf(door)[path] ?? [];

// A path with * in place of the member that it goes through.
export function patternOf(book, path) {
  const list = book.lists.find((each) => path.startsWith(`${each}.`));
  return list ? `${list}.*${path.slice(list.length + 1).replace(/^[^.]+/, "")}` : path;
}

// What readings come to: open, assumed, unknown, known or differs; and the reading that stands for them.
export function comesTo(heads) {
  const looked = heads.filter((each) => each.origin !== "assumed");
  if (!heads.length) return { state: "open", head: null };
  if (!looked.length) return { state: "assumed", head: heads.at(-1) };
  const telling = looked.filter((each) => each.says !== "unknown");
  if (!telling.length) return { state: "unknown", head: looked.at(-1) };
  const first = telling[0];
  const agree = telling.every((each) => each.says === first.says && each.typed === first.typed);
  return { state: agree ? "known" : "differs", head: telling.at(-1) };
}

// The members of a list by key, each with its paths; what was said to be gone alone is none.
export function membersOf(told, list) {
  const found = new Map();
  for (const path of Object.keys(told)) {
    if (!path.startsWith(`${list}.`)) continue;
    const [key, ...rest] = path.slice(list.length + 1).split(".");
    if (!rest.length) continue;
    found.set(key, [...(found.get(key) ?? []), path]);
  }
  return found;
}

// Every reading of a list or of a member, and of what is inside it, each with the fact that it is of.
export function headsBelow(told, path) {
  const inside = Object.entries(told).filter(([name]) => `${name}.`.startsWith(`${path}.`));
  return inside.flatMap(([fact, heads]) => heads.map((each) => ({ ...each, fact })));
}

// The protective devices: the keys of edges, of eyes and of others, and what the list as a whole comes to.
export function devicesOf(book, door) {
  const told = toldOf(door);
  const found = { edges: [], eyes: [], others: [], kinds: {} };
  const kinds = [];
  for (const key of membersOf(told, "protection").keys()) {
    const heads = told[`protection.${key}.kind`] ?? [];
    const kind = heads.find((each) => each.says === "value")?.typed ?? "";
    found.kinds[key] = kind;
    (book.edges.includes(kind) ? found.edges : book.eyes.includes(kind) ? found.eyes : found.others).push(key);
    kinds.push(...(heads.length ? heads : headsBelow(told, `protection.${key}`)));
  }
  const none = (told.protection ?? []).filter((each) => each.says === "none");
  const gone = Object.keys(found.kinds).some((key) => told[`protection.${key}`]);
  if (kinds.length && (none.length || gone)) return { ...found, state: "differs", head: kinds.at(-1) };
  if (kinds.length) return { ...found, ...stateOfKinds(kinds) };
  return { ...found, ...comesTo(told.protection ?? []) };
}

function stateOfKinds(kinds) {
  const looked = kinds.filter((each) => each.origin !== "assumed");
  return { state: looked.length ? "known" : "assumed", head: (looked.length ? looked : kinds).at(-1) };
}

// The rows of a walk at this door: those of its kind of leaf, and of wires one for each edge.
export function rowsOf(book, door, like = null) {
  const kind = kindOf(door) ?? (like && kindOf(like));
  const edges = devicesOf(book, door).edges;
  return book.rows.flatMap((row) => {
    if (row.entry === "wires") return edges.map((key) => ({ ...row, path: `protection.${key}.wires`, of: edges.length > 1 ? key : "" }));
    return !row.kinds.length || row.kinds.includes(kind ?? "sectional") ? [row] : [];
  });
}

export function kindOf(door) {
  const { head } = comesTo(headsAt(door, "door.kind"));
  return head?.says === "value" ? head.typed : null;
}

// What a row comes to at a door.
export function rowAt(book, door, row) {
  return row.entry === "devices" ? devicesOf(book, door) : comesTo(headsAt(door, row.path));
}

// Whether somebody has looked and said something: an assumption is none, “don't know” is one.
export const isAnswered = (found) => !["open", "assumed"].includes(found.state);
