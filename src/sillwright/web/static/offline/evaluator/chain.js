// The listed chain: is every link between the device and the operator read in the operator's instructions?
// The twin of duty/chain.py.
import { FALSE, OPEN, TRUE, anyJudged, candidates, judgedAll } from "./judged.js";
import { Group } from "./survey.js";

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

// Whether a known input of the operator can watch this device; true where its inputs are not recorded.
export function reachesAnInput(rules, opening, device) {
  const listing = opening.get("operator").get("inputs");
  const atTheEnd = device instanceof Group ? elementAtTheEnd(rules.devices, device) : TRUE;
  if (atTheEnd.value !== true) return atTheEnd;
  if (!(device instanceof Group) || ["not asked", "not known"].includes(listing.standing)) return TRUE;
  if (listing.standing === "assumed") {
    return reaches(rules, opening, device, listing.items).value === true ? TRUE : OPEN(listing.path);
  }
  const options = listing.rivals.length ? listing.rivals : [listing.items];
  const found = options.map((inputs) => reaches(rules, opening, device, inputs));
  return found.every((each) => each.value === found[0].value) ? found[0] : OPEN(listing.path);
}

// Whether the end element sits at the far end of the edge, as far as it is told.
function elementAtTheEnd(devices, device) {
  if (!devices.ended.includes(device.get("circuit").value)) return TRUE;
  const fact = device.get("end_element_at");
  const told = (fact.rivals.length ? fact.rivals : [fact.value]).map((each) => watchesTheEdge(devices, each));
  if (told.every(Boolean)) return TRUE;
  const stated = fact.known || fact.rivals.length; // not only assumed
  return !told.some(Boolean) && stated ? FALSE : OPEN(fact.path);
}

function watchesTheEdge(devices, written) {
  const words = (written ?? "").replaceAll("_", " ").toLowerCase();
  const found = devices.end_signs.find(([, signs]) => signs.some((sign) => words.includes(sign)));
  return !found || found[0] === "edge_far";
}

function reaches(rules, opening, device, inputs) {
  const joined = device.get("input");
  const one = (each) => reachesOne(rules, opening, device, each);
  const found = inputs.filter((each) => joined.known && each.get("name").value === joined.value);
  const doubtful = joined.standing === "two readings" || joined.standing === "assumed";
  if (doubtful || (joined.value !== null && !found.length)) {
    const allFit = inputs.every((each) => one(each).value === true);
    return inputs.length && allFit ? TRUE : OPEN(joined.path);
  }
  return anyJudged((found.length ? found : inputs).map(one));
}

function reachesOne(rules, opening, device, each) {
  const between = through(rules, opening, device);
  const direct = between !== null && !between.length && device.get("circuit").value !== "radio";
  const facts = [each.get("circuit"), device.get("circuit"), device.get("resistance"), each.get("resistance")];
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
