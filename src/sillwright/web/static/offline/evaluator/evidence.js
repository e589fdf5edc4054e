// What records say against a device: ohm readings, tests, force records. The twin of duty/evidence.py.
import { ANY_DAY, FIRST_DAY, withinAYear } from "./dates.js";
import { FALSE, OPEN, TRUE, anyJudged, candidates, judgedAll, knownValue } from "./judged.js";
import { Group } from "./survey.js";

// ohm readings

// Whether the latest of these readings show that a device does not work.
export function readAsFailed(rules, opening, device, readings) {
  if (!(device instanceof Group)) return FALSE; // an imagined one has no readings
  const name = device.get("id").value;
  const names = new Set(opening.get("protection").items.map((each) => each.get("id").value).filter((id) => id !== null));
  const mine = readings.filter((each) => {
    const of = knownValue(each.get("of"));
    return of === name || !names.has(of);
  });
  const parts = latestReadings(mine).map((reading) => {
    const shown = showsFailure(rules, opening, device, reading);
    const someones = name === null || knownValue(reading.get("of")) !== name;
    return someones && shown.value !== false ? OPEN(reading.get("of").path) : shown; // whose it is nobody can tell
  });
  return anyJudged(parts);
}

// The latest of each sort: a reading at rest says nothing of a press, nor one place of another.
function latestReadings(readings) {
  const sorts = new Map();
  for (const each of readings) {
    const sort = JSON.stringify(["of", "at", "pressed"].map((name) => knownValue(each.get(name))));
    if (!sorts.has(sort)) sorts.set(sort, []);
    sorts.get(sort).push(each);
  }
  return [...sorts.values()].flatMap((alike) => {
    const told = alike.filter((each) => knownValue(each.get("ohms")) !== null);
    const days = told.map((each) => knownValue(each.get("on"))?.first ?? FIRST_DAY);
    const last = days.sort().at(-1) ?? FIRST_DAY;
    return alike.filter((each) => (knownValue(each.get("on")) ?? ANY_DAY).last >= last);
  });
}

function showsFailure(rules, opening, device, reading) {
  const ohmsFact = reading.get("ohms");
  const circuits = candidates(device.get("circuit"), rules.devices.circuits);
  const ohms = candidates(ohmsFact, []);
  const pressed = candidates(reading.get("pressed"), [true, false]);
  if (ohmsFact.standing === "assumed" || ohmsFact.standing === "none there") return OPEN(ohmsFact.path);
  if (!ohms.length) return FALSE;
  const elements = endElements(rules, opening, device);
  const lists = [circuits, ohms, pressed, elements];
  const shown = judgedAll(lists, (...each) => fails(rules.devices, ...each));
  if (shown !== null) return shown ? TRUE : FALSE;
  const facts = [device.get("circuit"), ohmsFact, reading.get("pressed"), device.get("resistance")];
  return OPEN(...facts.filter((_, at) => lists[at].length > 1).map((fact) => fact.path));
}

// The values that the end element may have: the device's own, else that of the input it is joined to.
function endElements(rules, opening, device) {
  const own = candidates(device.get("resistance"), []);
  if (own.length) return own;
  const inputs = opening.get("operator").get("inputs").items;
  const joined = knownValue(device.get("input"));
  const named = inputs.filter((each) => knownValue(each.get("name")) === joined);
  const expected = (joined !== null && named.length ? named : inputs).flatMap((each) => candidates(each.get("resistance"), []));
  return expected.length ? [...new Set(expected)] : [rules.devices.usual_end_element];
}

function fails(devices, circuit, ohms, pressed, element) {
  if (!devices.metered.includes(circuit)) return false;
  const most = devices.pressed_at_most;
  if (pressed) return ohms > (circuit === "resistor" ? Math.min(most, devices.trips_below * element) : most);
  if (circuit === "resistor") return ohms < devices.trips_below * element || ohms > devices.open_above * element;
  return circuit === "plain" && ohms <= devices.pressed_at_most;
}

// tests

// With a gap only alone: "test 1 ft from the jamb" names no test of the plan.
const CODE = /^test(?:[-_\u2010-\u2013]?0*([0-9]+)(?![0-9]| ?[x×])| 0*([0-9]+)(?=$|[:;,.(]))/u;

// The code of a test as it was written, "TEST-9 edge moving" and "test 9" too; else the words, in small letters.
const codeOf = (rules, test) => code(rules, knownValue(test.get("what")));

function code(rules, what) {
  const words = rules.trimmed(String(what ?? "")).toLowerCase();
  const found = CODE.exec(words);
  return found ? `TEST-${found[1] ?? found[2]}` : words;
}

// Of two readings of what was tested both.
function codesOf(rules, test) {
  const rivals = test.get("what").rivals;
  return rivals.length ? rivals.map((each) => code(rules, each)) : [codeOf(rules, test)];
}

const stands = (rules, tests, test) =>
  resultOf(test) === "not met" && !met(rules, tests, test).some((other) => later(other, test));

// Tests that were not met, of which nobody can tell whether a protective device was tested.
function unclearTests(rules, tests) {
  const known = (each) => rules.devices.all_tests.includes(each) || each.startsWith("force");
  return tests.filter((test) => stands(rules, tests, test) && !codesOf(rules, test).every(known));
}

const resultOf = (test) => knownValue(test.get("result"));

const dayOf = (test) => knownValue(test.get("on"));

const later = (one, other) => (dayOf(one) ?? ANY_DAY).first > (dayOf(other) ?? ANY_DAY).last;

// Tests of a protective device that were not met, and that no later one took back for certain.
export function failedTests(rules, tests) {
  return tests.filter((test) => rules.devices.tests.includes(codeOf(rules, test)) && stands(rules, tests, test));
}

const met = (rules, tests, test) =>
  tests.filter((each) => codeOf(rules, each) === codeOf(rules, test) && resultOf(each) === "met");

// Whether a test shows a protective device that does not work.
export function testedAsFailed(rules, tests) {
  const parts = failedTests(rules, tests).map((test) => doubt(rules, tests, test));
  parts.push(...unclearTests(rules, tests).map(() => OPEN("tests")));
  for (const test of tests) { // of two readings one says that it was not met, or that it was this test
    const [what, result] = [test.get("what"), test.get("result")];
    const codes = [codeOf(rules, test), ...what.rivals.map((each) => code(rules, each))];
    const said = [knownValue(result), ...result.rivals].includes("not met");
    const twice = result.rivals.length || what.rivals.length;
    if (said && twice && codes.some((code) => rules.devices.tests.includes(code))) parts.push(OPEN("tests"));
  }
  return anyJudged(parts);
}

// A failure stands, unless one that was met may be the later of the two.
function doubt(rules, tests, test) {
  const first = (dayOf(test) ?? ANY_DAY).first;
  const maybe = met(rules, tests, test).some((each) => dayOf(each) !== null && dayOf(each).last >= first);
  return maybe ? OPEN("tests") : TRUE;
}

// Whether the latest result of a test is "met"; open where it was never done, or not judged.
export function testMet(rules, tests, code) {
  return latestResult(tests.filter((test) => codeOf(rules, test) === code));
}

function forceRecords(rules, tests) {
  return tests.filter((test) => {
    const code = codeOf(rules, test);
    return code === "TEST-12" || code.startsWith("force");
  });
}

// Whether the latest force record meets the limits; open where there is none.
export const forceRecord = (rules, tests) => latestResult(forceRecords(rules, tests));

function latestResult(done) {
  if (done.some((test) => test.get("result").rivals.length)) return OPEN("tests");
  const judged = done.filter((test) => resultOf(test) === "met" || resultOf(test) === "not met");
  const last = judged.filter((test) => !judged.some((other) => later(other, test)));
  const results = new Set(last.map(resultOf));
  if (results.size !== 1) return OPEN("tests");
  return results.has("met") ? TRUE : FALSE;
}

// Whether a force record of the last year meets the limits.
export function forceRecordWithinAYear(rules, tests, surveyed) {
  const records = forceRecords(rules, tests);
  const aged = records.map((test) => [test, withinAYear(test.get("on").value, surveyed)]);
  const recent = aged.filter(([, within]) => within !== false);
  if (records.length && !recent.length) return FALSE;
  if (recent.some(([, within]) => within === null)) return OPEN("tests");
  return latestResult(recent.map(([test]) => test));
}
