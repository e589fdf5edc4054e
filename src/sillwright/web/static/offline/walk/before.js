// As the door before, except …: what whoever looked says for this door with one tap, and what is only assumed. Pure.
import { comesTo, devicesOf, headsAt, isAnswered, membersOf, patternOf, rowAt, rowsOf, toldOf } from "./door.js";
import { answered, observation } from "./says.js";

// The nearest door before this one at which something of the walk was answered.
export function doorBefore(book, doors, id) {
  const at = doors.findIndex((each) => each.id === id);
  return doors.slice(0, at < 0 ? doors.length : at).reverse().find((each) => rowsOf(book, each).some((row) => isAnswered(rowAt(book, each, row)))) ?? null;
}

// What was seen at the door before, and is open here: [{row, found, answer}]. What was read, told or assumed there, what
// was measured with a tape and what was tried is not among it: each of these has its own tap.
export function sameHere(book, like, door) {
  const bare = isAnswered(devicesOf(book, door)) && !devicesOf(book, door).edges.length;
  return rowsOf(book, like).filter((row) => row.looked && !(bare && row.entry === "wires")).flatMap((row) => {
    if (isAnswered(rowAt(book, door, row.entry === "wires" ? { ...row, path: wiresHere(book, door, row) } : row))) return [];
    const found = rowAt(book, like, row);
    if (found.state !== "known" || !seen(found.head)) return [];
    const answer = likeThere(book, like, row, found);
    return answer ? [{ row, found, answer }] : [];
  });
}

const seen = (head) => !head.origin || head.origin === "measured";

// The path of the wires at this door; of an edge that is not taken down yet, as at the other.
function wiresHere(book, door, row) {
  const [key] = devicesOf(book, door).edges;
  return key ? `protection.${key}.wires` : row.path;
}

function likeThere(book, like, row, found) {
  if (row.entry !== "devices") return { says: found.head.says, typed: found.head.typed ?? "" };
  const kind = ([key]) => (key ? found.kinds[key] : undefined);
  return { edge: found.edges.length > 0, eye: found.eyes.length > 0, edgeLike: kind(found.edges), eyeLike: kind(found.eyes) };
}

// The entries of “All the same here, I looked”.
export function allTheSame(book, same, door, about) {
  const devices = same.find(({ row }) => row.entry === "devices");
  const others = same.filter(({ row }) => row.entry !== "wires");
  const made = others.flatMap(({ row, answer }) => answered(book, door, row, answer, about));
  const edge = edgeAfter(book, door, made, devices);
  const wires = same.find(({ row }) => row.entry === "wires");
  if (!edge || !wires) return made;
  const path = `protection.${edge}.wires`;
  return [...made, observation(about, path, wires.answer, headsAt(door, path))];
}

// The key of the edge once these entries are kept.
function edgeAfter(book, door, made, devices) {
  const kind = made.find((each) => /^protection\.[^.]+\.kind$/.test(each.fact) && book.edges.includes(each.typed));
  if (kind) return kind.fact.split(".")[1];
  return devices ? null : devicesOf(book, door).edges[0] ?? null;
}

// What else the door before tells: [{fact, typed}] that nobody has said anything of here. It comes over as assumed.
export function restOf(book, like, door) {
  const [there, here] = [toldOf(like), toldOf(door)];
  const ours = new Set(book.rows.map((row) => row.path));
  return Object.entries(there).flatMap(([fact, heads]) => {
    const pattern = patternOf(book, fact);
    const own = book.own.some((each) => `${pattern}.`.startsWith(`${each}.`));
    if (own || ours.has(pattern) || pattern === "protection.*.kind" || here[fact] || !fits(book, there, here, fact)) return [];
    const { state, head } = comesTo(heads);
    return ["known", "assumed"].includes(state) && head.says === "value" ? [{ fact, typed: head.typed }] : [];
  });
}

// Of devices only what is here as well; of another list nothing where this door has a list of its own, or that one is
// in dispute.
function fits(book, there, here, fact) {
  const list = book.lists.find((each) => fact.startsWith(`${each}.`));
  if (!list) return !book.lists.includes(fact);
  const key = fact.slice(list.length + 1).split(".")[0];
  if (fact === `${list}.${key}` || there[list] || there[`${list}.${key}`]) return false;
  if (list === "protection") return membersOf(here, list).has(key) && !here[`protection.${key}`];
  return !here[list] && !membersOf(here, list).size;
}

// The entries of “Take over the rest as assumed”. `by` says what it was compared with.
export function takenOver(rest, about, by) {
  return rest.map(({ fact, typed }) => ({ ...observation(about, fact, { typed, origin: "assumed" }, []), by, on: "" }));
}
