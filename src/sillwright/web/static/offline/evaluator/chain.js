// The listed chain: is every link between the device and the operator read in the operator's instructions?
// The twin of duty/chain.py.
import { FALSE, OPEN, TRUE, allJudged, anyJudged, candidates, judgedAll } from "./judged.js";
import { Group } from "./survey.js";
import { canBeElement, crowded, elementThere, inputTold, loopSeen, onlyStops, sameName, togetherSeen, valuesOf, wired } from "./watching.js";

// Whether the operator's instructions were in somebody's hands: title, page, reader and date are recorded.
function instructionsRead(rules, opening) {
  const record = opening.get("operator").get("instructions");
  return ["title", "page", "read_by", "on"].every((name) => {
    const fact = record.get(name);
    return fact.known && fact.value !== null && rules.readOrigins.has(fact.origin ?? "");
  });
}

// Whether every link of a device's chain is read in the operator's instructions.
export function isListed(facts, device, algebra) {
  const { opening } = facts;
  if (!(device instanceof Group)) return imaginedListed(facts, algebra); // it may be any of those that are listed
  const links = [named(facts, device.get("model"), algebra)];
  const between = through(facts.rules, opening, device);
  if (between === null) links.push(facts.either(algebra, device.get("through").path, "listed"));
  else links.push(...between.map((name) => linkListed(facts, name, algebra)));
  return algebra.allOf(links);
}

const listsOf = (opening) => opening.get("operator").get("lists_devices");

function imaginedListed(facts, algebra) {
  const lists = listsOf(facts.opening);
  if (lists.known && !lists.value?.length) return algebra.constant(false);
  const counts = lists.known && lists.value?.length && facts.rules.readOrigins.has(lists.origin ?? "");
  const asked = counts ? [] : [facts.either(algebra, "operator.lists_devices", "listed")];
  return algebra.allOf([...asked, instructions(facts, algebra)]);
}

// What stands between device and operator; null where that is not known.
function through(rules, opening, device) {
  const fact = device.get("through");
  const circuit = device.get("circuit").value;
  if (fact.known) {
    const links = fact.value ?? [];
    return circuit === "radio" && links.length < rules.devices.radio_links ? null : links;
  }
  const converters = opening.get("converters");
  const seen = !["not asked", "known"].includes(converters.standing) || converters.items.length > 0;
  if (fact.standing !== "not asked" || circuit === "radio" || seen) return null;
  const circuits = opening.get("operator").get("inputs").items.map((each) => each.get("circuit").value);
  const fits = !circuits.length || circuit === null || circuits.includes(null) || circuits.includes(circuit);
  return fits ? [] : null;
}

function named(facts, model, algebra) {
  if (model.known && model.value !== null) return linkListed(facts, model.value, algebra);
  if (model.standing === "two readings" && model.rivals.every(Boolean)) {
    const either = model.rivals.map((name) => linkListed(facts, name, algebra));
    const both = [algebra.anyOf(either), facts.either(algebra, model.path, "listed")];
    return algebra.anyOf([algebra.allOf(either), algebra.allOf(both)]);
  }
  return algebra.allOf([facts.either(algebra, model.path, "listed"), imaginedListed(facts, algebra)]);
}

// Whether one named link is read in the operator's instructions.
function linkListed(facts, name, algebra) {
  const lists = listsOf(facts.opening);
  if (lists.known && (!lists.value?.length || facts.rules.readOrigins.has(lists.origin ?? ""))) {
    if (!(lists.value ?? []).includes(name)) return algebra.constant(false);
    return instructions(facts, algebra);
  }
  const asked = facts.either(algebra, "operator.lists_devices", name);
  return algebra.allOf([asked, instructions(facts, algebra)]);
}

function instructions(facts, algebra) {
  if (instructionsRead(facts.rules, facts.opening)) return algebra.constant(true);
  return facts.either(algebra, "operator.instructions", "listed");
}

// Whether an input of the operator can watch this device as it is wired, as far as the survey tells.
export function reachesAnInput(rules, opening, device) {
  if (!(device instanceof Group)) return TRUE;
  return allJudged([loopSeen(rules.devices, opening, device), onTheInputs(rules, opening, device)]);
}

// Whether the leaf reverses from the input that a device is on; open where that input, by its name, only stops.
export function reversesThere(rules, opening, device) {
  if (!(device instanceof Group)) return TRUE;
  const joined = device.get("input");
  let names = valuesOf(joined);
  if (!names.length) {
    const inputs = opening.get("operator").get("inputs").items;
    const reached = inputs.filter((each) => reachesOne(rules, opening, device, each).value !== false);
    names = (reached.length ? reached : inputs).map((each) => each.get("name").value);
  }
  return names.length && names.every((each) => onlyStops(rules.devices, each)) ? OPEN(joined.path) : TRUE;
}

function onTheInputs(rules, opening, device) {
  const listing = opening.get("operator").get("inputs");
  if (device.get("input").standing === "none there") return FALSE;
  if (listing.standing === "not asked") return besideOthers(rules, opening, device, []);
  if (listing.standing === "not known") return OPEN(listing.path);
  const options = listing.rivals.length ? listing.rivals : [listing.items];
  const found = options.map((inputs) =>
    allJudged([reaches(rules, opening, device, inputs), besideOthers(rules, opening, device, inputs)]));
  if (listing.standing === "assumed") return found[0].value === true ? TRUE : OPEN(listing.path);
  return found.every((each) => each.value === found[0].value) ? found[0] : OPEN(listing.path);
}

function reaches(rules, opening, device, inputs) {
  const joined = device.get("input");
  const named = namedInputs(device, inputs);
  if (inputTold(device) !== null && !named.length) return OPEN(joined.path);
  const found = (named.length ? named : inputs).map((each) => reachesOne(rules, opening, device, each));
  if (named.length > 1 || ["two readings", "assumed", "not known"].includes(joined.standing)) {
    return found.length && found.every((each) => each.value === true) ? TRUE : OPEN(joined.path);
  }
  return anyJudged(found);
}

// The inputs of the name that a device is told to be on.
function namedInputs(device, inputs) {
  const name = inputTold(device);
  return inputs.filter((each) => each.get("name").value !== null && sameName(each.get("name").value) === name);
}

function reachesOne(rules, opening, device, each) {
  const between = through(rules, opening, device);
  const direct = between !== null && !between.length && device.get("circuit").value !== "radio";
  const wanted = each.get("resistance");
  if (direct && valuesOf(each.get("circuit")).includes("resistor")) {
    if (!valuesOf(wanted).every((ohm) => canBeElement(rules.devices, ohm))) return OPEN(wanted.path);
  }
  const facts = [each.get("circuit"), device.get("circuit"), device.get("resistance"), wanted];
  const values = facts.map((fact, at) => candidates(fact, at === 0 ? rules.devices.input_circuits : [null]));
  const shown = judgedAll(values, (...one) => fits(rules.devices, direct, ...one));
  if (shown !== null) return shown ? TRUE : FALSE;
  return OPEN(...facts.filter((_, at) => values[at].length > 1).map((fact) => fact.path));
}

function fits(devices, direct, circuit, own, fitted, wanted) {
  if (!direct || own === null) return devices.watched_inputs.includes(circuit);
  if (own !== circuit) return false;
  if (circuit !== "resistor" || fitted === null || wanted === null) return true;
  return Math.abs(fitted - wanted) <= devices.value_tolerance * wanted;
}

// several devices on one input

// Whether the operator can watch a device beside those that are on its input, or may have to be.
function besideOthers(rules, opening, device, inputs) {
  const listed = listedWith(opening, device);
  const there = wired(rules.devices, listed);
  const name = inputTold(device);
  const withIt = there.filter((each) => each !== device && name !== null && inputTold(each) === name);
  const sharing = listed.filter((each) => each === device || withIt.includes(each));
  if (withIt.length) return togetherSeen(rules.devices, device, sharing);
  if (!there.includes(device)) return TRUE;
  return allJudged([elementThere(rules.devices, device, there), alone(rules, opening, device, there, inputs)]);
}

// Whether a device has an input for itself, as far as others that nobody told to be on one leave it any.
function alone(rules, opening, device, there, inputs) {
  if (there.length > rules.devices.most_placed) return OPEN(device.get("input").path);
  const places = new Map(there.map((each) => [each.path, placesOf(rules, opening, each, inputs)]));
  if (!crowded(places, device.path)) return TRUE;
  const mine = places.get(device.path);
  const rivals = there.filter((each) => places.get(each.path).some((place) => mine.includes(place)));
  return OPEN(...rivals.filter((each) => inputTold(each) === null).map((each) => each.get("input").path));
}

// The devices of the reading of the list in which this one stands.
function listedWith(opening, device) {
  const listing = opening.get("protection");
  return [listing.items, ...listing.rivals].find((some) => some.includes(device)) ?? [];
}

// The inputs that a device is told to be on, or would be watched on as it is wired.
function placesOf(rules, opening, device, inputs) {
  const name = inputTold(device);
  if (name !== null) {
    const named = namedInputs(device, inputs);
    return named.length ? named.map((each) => each.path) : [name];
  }
  if (through(rules, opening, device) === null || device.get("circuit").value === null) return [];
  return inputs.filter((each) => reachesOne(rules, opening, device, each).value === true).map((each) => each.path);
}
