// How far a door is: what it lacks, how urgent it is, who else is at it; and the tag of the next one. Pure. What a door
// lacks is said by the server as well (web/walk/missing.py).
import { isAnswered, membersOf, rowAt, rowsOf, toldOf } from "./door.js";

const URGENCY = "urgency";

export const remarksOf = (door, says) => door.remarks.filter((each) => each.says === says);

// The photos of a shot: what the server has, and what waits here.
export function shotsOf(door, waiting, shot) {
  const all = [...door.photos.filter((each) => !each.copy_of && each.state !== "refused"), ...waiting.filter((each) => !each.copy_of && !door.photos.some(({ id }) => id === each.id))];
  return all.filter((each) => shot.count.includes(each.shot));
}

// Everything that a walk asks of a door and that is not here: [{about, row | shot | urgency, left}].
export function lacks(book, door, waiting) {
  const left = new Set(remarksOf(door, "left").map((each) => each.about));
  const found = [
    ...rowsOf(book, door).filter((row) => !isAnswered(rowAt(book, door, row))).map((row) => ({ about: row.path, row })),
    ...book.shots.filter((shot) => !shotsOf(door, waiting, shot).length).map((shot) => ({ about: shot.name, shot })),
    ...(remarksOf(door, URGENCY).length ? [] : [{ about: URGENCY }]),
  ];
  return found.map((each) => ({ ...each, left: left.has(each.about) }));
}

export const missing = (book, door, waiting) => lacks(book, door, waiting).filter((each) => !each.left);

// not-begun, begun or done.
export function stateOf(book, door, waiting) {
  const open = missing(book, door, waiting);
  if (!open.length) return "done";
  const begun = rowsOf(book, door).some((row) => isAnswered(rowAt(book, door, row))) || door.remarks.length || door.photos.length || waiting.length;
  return begun ? "begun" : "not-begun";
}

// Temporary parts in place: nobody leaves before they are out.
export function temporary(door) {
  const told = toldOf(door);
  return [...membersOf(told, "temporary_parts").keys()].map((key) => told[`temporary_parts.${key}.what`]?.find((each) => each.typed)?.typed ?? "");
}

const OF_LEVEL = { stop: "stop", act: "quote", note: "watch" };

// How urgent: the heaviest word of all, of the study and of people. A person raises it, and never lowers it.
export function urgencyOf(book, door) {
  const order = [...book.urgencies.map(([word]) => word), ""];
  const study = OF_LEVEL[door.answer?.level] ?? "";
  const words = remarksOf(door, URGENCY);
  const word = [study, ...words.map((each) => each.words)].sort((one, other) => order.indexOf(one) - order.indexOf(other))[0];
  const lower = new Set(study ? order.slice(order.indexOf(study) + 1) : []);
  return { word, study, words, lower };
}

const RECENTLY = 4 * 3_600_000; // ms

// Who else wrote something of this door in the last hours: [{author, at}], the last one first.
export function othersAt(door, me, now = Date.now()) {
  const said = [...Object.values(toldOf(door)).flat(), ...door.remarks];
  const last = new Map();
  for (const { author, at } of said) {
    if (!author || author === me || !(now - Date.parse(at) < RECENTLY)) continue;
    if (!last.has(author) || last.get(author) < at) last.set(author, at);
  }
  return [...last].map(([author, at]) => ({ author, at })).sort((one, other) => (one.at < other.at ? 1 : -1));
}

// A door in walking order, by the doors in their order: its number, the one before it, and where earlier and later are:
// after which door, null for first, undefined where there is no such place.
export function placeOf(doors, id) {
  const at = doors.findIndex((each) => each.id === id);
  const ids = [null, ...doors.map((each) => each.id)];
  return { number: at + 1, before: ids[at], earlier: ids[at - 1], later: at + 1 < doors.length ? ids[at + 2] : undefined };
}

// The tag after the last one that is free: B7 → B8, Bay 09 → Bay 10.
export function nextTag(tags) {
  const [, head, digits, tail] = /^(.*?)(\d*)(\D*)$/s.exec(tags.at(-1) ?? "") ?? [];
  const base = digits ? head : tags.length ? `${tags.at(-1)} ` : "";
  for (let number = digits ? Number(digits) + 1 : tags.length ? 2 : 1; ; number += 1) {
    const tag = `${base}${String(number).padStart(digits?.length ?? 0, "0")}${digits ? tail : ""}`;
    if (!tags.includes(tag)) return tag;
  }
}

// The next door in walking order that is not done, after a door, and from the beginning again.
export function nextDoor(book, doors, photos, after) {
  const at = doors.findIndex((each) => each.id === after);
  const round = [...doors.slice(at + 1), ...doors.slice(0, Math.max(0, at))];
  return round.find((each) => stateOf(book, each, photos(each.id)) !== "done") ?? null;
}
