// Which sentence is the headline of an answer, by its name in the book. The twin of study/headline.py, and of the
// findings of duty/findings.py that it goes by.
import { decidingDates } from "./dates.js";
import { failedTests, readAsFailed } from "./evidence.js";

// {say, facts, count}: the name of the sentence, the facts named in it, and how many more there are.
export function headlineOf(rules, opening, duty) {
  const { powered_closing: answer, deciding_facts: deciding } = duty;
  const { trouble, named_first: first } = rules.book.words;
  if (answer === "no") {
    const found = trouble.find((name) => TROUBLE[name](rules, opening));
    if (found) return { say: found, facts: [], count: 0 };
  }
  if (duty.no_rules) return { say: "no_rules", facts: [], count: 0 };
  if (answer === "yes") return { say: isOlder(rules, opening, duty) ? "yes_old" : "yes", facts: [], count: 0 };
  if (answer === "no") return { say: no(rules, opening, duty), facts: [], count: 0 };
  const count = Math.max(0, deciding.length - first);
  return { say: count ? "unknown_many" : "unknown", facts: deciding.slice(0, first), count };
}

// In Europe a held control is for trained persons only.
function no(rules, opening, { regime }) {
  const europe = regime === "europe" ? "_europe" : "";
  return `${isGate(rules, opening) ? "no_gate" : "no"}${europe}`;
}

// What somebody found, in either reading of a list; not what was only assumed.
function told(listing) {
  return listing.standing === "assumed" ? [] : [...listing.items, ...listing.rivals.flat()];
}

const NOT_WORKING = ["dead", "torn_off", "defeated"];

const TROUBLE = {
  "duty.temporary_part": (rules, opening) => told(opening.get("temporary_parts")).length > 0,
  "duty.defeated": (rules, opening) => told(opening.get("defeats")).length > 0,
  "duty.device_not_working": (rules, opening) =>
    told(opening.get("protection")).some((device) => {
      const state = device.get("state");
      return state.known && NOT_WORKING.includes(state.value);
    }),
  "duty.reading"(rules, opening) {
    const readings = told(opening.get("readings"));
    return told(opening.get("protection")).some((each) => readAsFailed(rules, opening, each, readings).value === true);
  },
  "duty.test_not_met": (rules, opening) => failedTests(rules, told(opening.get("tests"))).length > 0,
  "duty.closes_on_objects"(rules, opening) {
    const found = opening.get("as_found");
    return found.known && found.value === "closes_on_objects";
  },
};

// An older installation without a watched device: it may close as it did when it was made.
function isOlder(rules, opening, duty) {
  const operator = opening.get("operator");
  const assumed = ["board_made", "made"].some((name) => operator.get(name).standing === "assumed");
  const dates = decidingDates(operator);
  const old = dates.length > 0 && !assumed && dates.every((each) => each.last < rules.devices.board_rule);
  return duty.regime === "us_commercial" && old && !duty.devices.some((each) => each.monitored === "yes");
}

function isGate(rules, opening) {
  const { value, rivals } = opening.get("door").get("kind");
  const { gates } = rules.devices;
  return gates.includes(value) || (rivals.length > 0 && rivals.every((kind) => gates.includes(kind)));
}
