// What cannot be said in the rule language: what was said at all, chains, readings, tests. The twin of the functions
// in duty/facts.py.
import { isListed, reachesAnInput, reversesThere } from "./chain.js";
import { withinAYear } from "./dates.js";
import { forceRecord, forceRecordWithinAYear, readAsFailed, testMet, testedAsFailed } from "./evidence.js";
import { memberOf } from "./expression.js";
import { Imagined } from "./imagined.js";
import { OPEN } from "./judged.js";
import { CannotTell } from "./refusals.js";
import { Group, Listing } from "./survey.js";

export function callOf(facts, name, args, bound, algebra) {
  const [argument] = args;
  if (name in SAID) {
    const [owner, last] = facts.owner(pathOf(argument), bound);
    return algebra.constant(SAID[name](facts, owner, last));
  }
  if (name === "ask") return facts.either(algebra, pathOf(argument).join("."), "whole");
  if (name === "listed") return isListed(facts, memberOf(argument, bound), algebra);
  return facts.judged(record(facts, name, argument, bound), algebra, askedOf(name, args, bound));
}

// What is asked, of which device or fact: "a test failed" and "a force record is met" are two questions.
function askedOf(name, args, bound) {
  const said = args.map(([kind, value]) => (kind === "path" ? pathIn(value, bound) : String(value)));
  return ["record", name, ...said].join(" ");
}

// A path with the member that its first word stands for.
function pathIn([first, ...rest], bound) {
  const member = bound.get(first);
  return [member === undefined ? first : member.path, ...rest].join(".");
}

function pathOf(argument) {
  if (argument?.[0] !== "path") throw new CannotTell("argument");
  return argument[1];
}

// A single fact or a list; of a group as a whole nothing is said.
function factOf(owner, name) {
  const fact = owner.get(name);
  if (fact instanceof Group) throw new CannotTell(name);
  return fact;
}

const UNSAID = ["not asked", "not known", "none there"];

const SAID = {
  stated(facts, owner, name) {
    if (owner instanceof Imagined) return owner.facts.has(name);
    const fact = factOf(owner, name);
    if (fact instanceof Listing) return fact.standing === "known";
    const told = fact.standing === "known" && fact.value !== null && fact.value !== facts.rules.imagined.no_value;
    return told || fact.standing === "two readings" || fact.standing === "assumed"; // it may hide a harm
  },
  asked: (facts, owner, name) => owner instanceof Imagined || factOf(owner, name).standing !== "not asked",
  unsaid(facts, owner, name) {
    if (owner instanceof Imagined) return !owner.facts.has(name);
    const fact = factOf(owner, name);
    return UNSAID.includes(fact.standing) || (fact.known && fact.value === facts.rules.imagined.no_value);
  },
};

// What the records of this opening say: {value, open}.
function record(facts, name, argument, bound) {
  if (argument?.[0] === "path") return recordOf(facts, name, argument, bound);
  const { rules, opening, site } = facts;
  const word = argument ? String(argument[1]) : "";
  const tests = opening.get("tests");
  switch (name) {
    case "listed_to": return listedTo(opening.get("operator").get("listed_to"), word);
    case "test_met": return over(tests, (some) => testMet(rules, some, word));
    case "tested_as_failed": return over(tests, (some) => testedAsFailed(rules, some));
    case "force_record": return over(tests, (some) => forceRecord(rules, some));
    case "force_record_within_a_year":
      return over(tests, (some) => forceRecordWithinAYear(rules, some, site.get("surveyed_on").value));
    default: throw new CannotTell(name);
  }
}

const listedTo = (fact, word) => ({
  value: fact.known ? (fact.value ?? []).includes(word) : null,
  open: [fact.path],
});

// What a record says of one device or one fact.
function recordOf(facts, name, argument, bound) {
  const { rules, opening, site } = facts;
  if (name === "within_a_year") {
    const [owner, last] = facts.owner(argument[1], bound);
    const fact = owner.get(last);
    const day = fact.known ? fact.value : null;
    return { value: withinAYear(day, site.get("surveyed_on").value), open: [fact.path] };
  }
  if (name === "reaches_an_input") return reachesAnInput(rules, opening, memberOf(argument, bound));
  if (name === "reverses_there") return reversesThere(rules, opening, memberOf(argument, bound));
  if (name === "underneath") return underneath(rules, memberOf(argument, bound));
  if (name === "read_as_failed") {
    const device = memberOf(argument, bound);
    return over(opening.get("readings"), (some) => readAsFailed(rules, opening, device, some));
  }
  throw new CannotTell(name);
}

// Whether a zone lies beneath the leaf.
function underneath(rules, zone) {
  if (zone instanceof Imagined) return OPEN(zone.path);
  const place = zone.get("place");
  const told = (place.known ? [place.value] : place.rivals).filter((each) => each !== null);
  const found = new Set(told.map((each) => rules.patterns.beneath.test(String(each))));
  return found.size === 1 ? { value: [...found][0], open: [] } : OPEN(place.path);
}

// What records say; where two readings of the list differ, only what both say.
function over(listing, judge) {
  if (listing.standing === "known" || listing.standing === "not asked") return judge(listing.items);
  const found = listing.rivals.map(judge);
  const first = found[0];
  const alike = (each) => each.value === first.value && each.open.join("\n") === first.open.join("\n");
  return found.length && found.every(alike) ? first : OPEN(listing.path);
}
