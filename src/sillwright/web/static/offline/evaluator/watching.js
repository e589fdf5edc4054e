// What a survey says of the wires on an operator's inputs, and what that lets the operator watch. The twin of
// circuit/watching.py.
import { FALSE, OPEN, TRUE, allJudged } from "./judged.js";

// Every value that somebody told of a fact, assumed ones too.
export const valuesOf = (fact) => [fact.value, ...fact.rivals].filter((each) => each !== null);

// What two names of inputs are compared by.
export const sameName = (name) => name.toLowerCase();

// Whether the name of an input says that it stops the leaf, rather than reversing it.
export function onlyStops(devices, name) {
  const words = (name ?? "").replaceAll("_", " ");
  return new RegExp(devices.stop, "i").test(words) && !new RegExp(devices.reverse, "i").test(words);
}

// Whether the wires of a device let the operator see all of it, as far as its own facts tell.
export const loopSeen = (devices, opening, device) =>
  allJudged([elementSeen(devices, device), elementRead(devices, device), stripsSeen(devices, opening, device)]);

// Whether the value that was told of an end element can be one: a slip of a thousand is open.
function elementRead(devices, device) {
  if (!valuesOf(device.get("circuit")).includes("resistor")) return TRUE;
  const fact = device.get("resistance");
  return valuesOf(fact).every((each) => canBeElement(devices, each)) ? TRUE : OPEN(fact.path);
}

export const canBeElement = ({ least_element: least, most_element: most }, ohm) => ohm > least && ohm < most;

function elementSeen(devices, device) {
  const fact = device.get("end_element_at");
  const circuits = valuesOf(device.get("circuit"));
  if (!circuits.some((each) => devices.ended.includes(each)) || fact.standing === "not asked") return TRUE;
  const told = fact.rivals.length ? fact.rivals : [fact.value];
  const seen = told.map((each) => (each === null ? null : watchesTheEdge(devices, each)));
  if (seen.every((each) => each === true)) return TRUE;
  const sure = seen.every((each) => each === false) && fact.standing !== "assumed";
  return ifOf(device, circuits, devices.ended, sure ? FALSE : OPEN(fact.path));
}

function watchesTheEdge(devices, written) {
  const words = ` ${written.replaceAll("_", " ").toLowerCase()} `;
  if (devices.end_doubts.some((doubt) => words.includes(doubt))) return null;
  const named = devices.end_signs.filter(([, signs]) => signs.some((sign) => words.includes(sign)));
  return named.length === 1 ? named[0][0] === "edge_far" : null;
}

function stripsSeen(devices, opening, device) {
  const circuits = valuesOf(device.get("circuit"));
  if (!circuits.includes("four_wire") || !devices.edges.includes(device.get("kind").value)) return TRUE;
  const counts = [opening.get("cord").get("conductors"), device.get("wires")];
  return ifOf(device, circuits, ["four_wire"], allJudged(counts.map((each) => enough(devices, each))));
}

function enough(devices, count) {
  const short = valuesOf(count).map((each) => each < devices.strip_ends);
  if (!short.includes(true)) return TRUE;
  return short.every(Boolean) && count.standing !== "assumed" ? FALSE : OPEN(count.path);
}

// Whether a device that has its input for itself ends in an element: looked for and not found, it is a plain one.
export function elementThere(devices, device, there) {
  const circuits = valuesOf(device.get("circuit"));
  if (!circuits.includes("resistor") || device.get("resistance").standing !== "none there") return TRUE;
  const loop = there.some((each) => each !== device && mayBeOneLoop(devices, each, device));
  return loop ? OPEN(device.get("input").path) : ifOf(device, circuits, ["resistor"], FALSE);
}

function mayBeOneLoop(devices, one, other) {
  const edges = allEdges(devices, [one, other]) && valuesOf(one.get("circuit")).includes("resistor");
  const names = new Set([inputTold(one), inputTold(other)]);
  return edges && (names.has(null) || names.size === 1);
}

// What was found of some circuits, where the device may be of another.
function ifOf(device, circuits, some, found) {
  const all = circuits.every((each) => some.includes(each));
  return found.value === false && !all ? OPEN(device.get("circuit").path) : found;
}

// The devices that are joined to an input and still hang on their wires.
export const wired = (devices, some) => some.filter((each) => {
  const state = each.get("state");
  return !devices.unwired.includes(each.get("kind").value) && !(state.known && devices.gone.includes(state.value));
});

// The input that a device is known to be on, by its name.
export function inputTold(device) {
  const joined = device.get("input");
  return joined.known && joined.value !== null ? sameName(joined.value) : null;
}

// Whether the operator can watch a device among those that are on one input, itself among them.
export function togetherSeen(devices, device, there) {
  if (there.length < 2) return TRUE;
  const told = waysOf(devices, there);
  const found = (told.length ? told : devices.shared).map((way) => seenAs(devices, way, device, there));
  const drawn = told.length ? null : asDrawn(devices, there);
  if (drawn !== null) return drawn;
  if (found.every((each) => each.value === found[0].value)) return found[0];
  return OPEN(...undecided(there), ...found.flatMap((each) => each.open));
}

// How devices may share their input by what was said of any of them; none where nobody was asked.
function waysOf({ shared }, there) {
  const told = askedOf(there).map((fact) => {
    if (fact.known && fact.value !== null) return [fact.value];
    return fact.rivals.length && !fact.rivals.includes(null) ? fact.rivals : shared;
  });
  const both = told.length ? shared.filter((way) => told.every((some) => some.includes(way))) : [];
  return both.length ? both : shared.filter((way) => told.some((some) => some.includes(way)));
}

const askedOf = (there) => there.map((each) => each.get("joined")).filter((each) => each.standing !== "not asked");

// The facts that would tell how devices share their input: the first where nobody was asked of any.
function undecided(there) {
  const told = askedOf(there);
  const unsure = told.filter((each) => !each.known || each.value === null);
  const facts = unsure.length ? unsure : told.length ? told : [there[0].get("joined")];
  return facts.map((each) => each.path);
}

// What holds of devices on one input where nobody was asked how they are joined; null where it is open.
function asDrawn(devices, there) {
  if (onePart(there)) return TRUE;
  const circuits = new Set(there.map((each) => each.get("circuit").value));
  return circuits.size === 1 && circuits.has("resistor") && allEdges(devices, there) ? oneElement(there) : null;
}

// Whether a device is watched where several share an input in this way.
function seenAs(devices, way, device, there) {
  if (way === "own_wires" && onePart(there)) return TRUE;
  const facts = there.map((each) => each.get("circuit"));
  const circuits = new Set(facts.map((each) => each.value));
  if (!allEdges(devices, there) || circuits.size > 1 || circuits.has(null)) {
    const unknown = facts.filter((each) => !each.known);
    return unknown.length ? OPEN(...unknown.map((each) => each.path)) : FALSE;
  }
  if (circuits.has("resistor")) return way === "end_to_end" ? oneElement(there) : onlyElement(device, there);
  return circuits.has("four_wire") && way === "end_to_end" ? TRUE : FALSE;
}

const allEdges = (devices, there) => there.every((each) => devices.edges.includes(each.get("kind").value));

// Whether one and the same part stands between all of these and their input.
function onePart(some) {
  const parts = some.map((each) => each.get("through")).map((each) => (each.known ? each.value ?? [] : []));
  const written = new Set(parts.map((each) => JSON.stringify(each)));
  return written.size === 1 && parts[0].length > 0;
}

const elementsOf = (there) => there.map((each) => each.get("resistance"));
const holds = (element) => valuesOf(element).length > 0;
const notLookedAt = (there) => elementsOf(there).filter((each) => !["known", "none there"].includes(each.standing));

// Whether just one of several edges holds an end element, and the others were looked at and hold none.
function oneElement(there) {
  const held = elementsOf(there).filter(holds);
  if (held.length > 1) return FALSE;
  const unsure = notLookedAt(there);
  if (unsure.length) return OPEN(...unsure.map((each) => each.path));
  return held.length ? TRUE : FALSE;
}

// Whether a device beside others holds the only end element: cut off, it leaves the input open.
function onlyElement(device, there) {
  const others = there.filter((each) => each !== device);
  if (elementsOf(others).some(holds) || device.get("resistance").standing === "none there") return FALSE;
  const unsure = notLookedAt(there);
  return unsure.length ? OPEN(...unsure.map((each) => each.path)) : TRUE;
}

// Whether one of several has no place of its own once the others have as many as they can.
export function crowded(places, one) {
  if (!places.get(one).length) return false;
  const without = new Map([...places].filter(([name]) => name !== one));
  return mostPlaced(places) === mostPlaced(without);
}

// How many of several can have a place of their own (Kuhn's augmenting paths).
function mostPlaced(places) {
  const taken = new Map();
  const moved = (name, tried) => places.get(name).some((place) => {
    if (tried.has(place)) return false;
    tried.add(place);
    if (taken.has(place) && !moved(taken.get(place), tried)) return false;
    taken.set(place, name);
    return true;
  });
  return [...places.keys()].filter((name) => moved(name, new Set())).length;
}
