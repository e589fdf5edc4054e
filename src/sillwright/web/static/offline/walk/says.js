// What a tap at a door comes to as entries: each replaces the readings that its author saw. Pure.
import { devicesOf, headsAt, headsBelow, toldOf } from "./door.js";

// An observation of the person who stands there. `about` is {site, opening, by, on}.
export function observation(about, fact, said, seen) {
  const told = { says: "value", typed: "", origin: "measured", evidence: "", ...said };
  if (told.says === "unknown") told.origin = ""; // nobody measured what nobody knows
  return {
    kind: "observation",
    site: about.site,
    opening: about.opening,
    fact,
    ...told,
    by: about.by,
    on: about.on,
    replaces: seen.map((each) => each.id),
    before: seen,
  };
}

// A remark: words, how urgent, or what is left out.
export function remark(about, says, words, replaced = [], on = "") {
  return {
    kind: "remark",
    site: about.site,
    opening: about.opening,
    says,
    about: on,
    words,
    replaces: replaced.map((each) => each.id),
    before: replaced,
  };
}

// A door comes right after another one, or first of all. `before` is after which it came.
export function move(about, after, before) {
  return { kind: "move", site: about.site, opening: about.opening, after, before };
}

// The entries of an answer to one row: {typed}, {says: "unknown"}, {says: "none"}, or of the devices {edge, eye}.
export function answered(book, door, row, answer, about) {
  if (row.entry !== "devices") return [observation(about, row.path, answer, headsAt(door, row.path))];
  const told = toldOf(door);
  if (answer.says === "unknown") return [observation(about, "protection", answer, told.protection ?? [])];
  return devices(book, door, answer, about);
}

function devices(book, door, answer, about) {
  const told = toldOf(door);
  const found = devicesOf(book, door);
  const made = [];
  const gone = (keys) => keys.map((key) => observation(about, `protection.${key}`, { says: "removed", origin: "measured" }, headsBelow(told, `protection.${key}`)));
  for (const [wanted, keys, kinds, letter, like] of [
    [answer.edge, found.edges, book.edges, "e", answer.edgeLike],
    [answer.eye, found.eyes, book.eyes, "y", answer.eyeLike],
  ]) {
    if (!wanted) made.push(...gone(keys));
    else if (keys.length) for (const key of keys) made.push(there(about, told, key, found.kinds[key]));
    else made.push({ ...there(about, told, fresh(letter, told), like ?? kinds[0]), makes: true });
  }
  const left = answer.edge || answer.eye || found.others.length;
  const whole = told.protection ?? [];
  if (!left) {
    const seen = [...whole, ...[...found.edges, ...found.eyes].flatMap((key) => headsBelow(told, `protection.${key}`))];
    return [observation(about, "protection", { says: "none" }, seen)];
  }
  return made.map((each, number) => (number ? each : withSeen(each, whole)));
}

// That the list was none, or not known, is replaced by the first thing that is said of its members.
const withSeen = (entry, seen) => ({ ...entry, replaces: [...entry.replaces, ...seen.map((each) => each.id)], before: [...entry.before, ...seen.map((each) => ({ ...each, fact: "protection" }))] });

// A device stands there: this replaces what was said of its kind, and that it was gone.
function there(about, told, key, kind) {
  const gone = (told[`protection.${key}`] ?? []).map((each) => ({ ...each, fact: `protection.${key}` }));
  return observation(about, `protection.${key}.kind`, { typed: kind }, [...(told[`protection.${key}.kind`] ?? []), ...gone]);
}

function fresh(letter, told) {
  for (let number = 1; ; number += 1) {
    const key = `${letter}${number}`;
    const taken = Object.entries(told).some(([path, heads]) => path.startsWith(`protection.${key}.`) && heads.length);
    if (!taken) return key;
  }
}
