// May this leaf close under power, which facts decide, and what does each rule say? By the rules, facts and words of
// the book alone (see offline/book.py), equal in every answer to what the server says. The twin of duty/_assess.py.
import { answerOf, deviceStandings } from "./devices.js";
import { Evaluator } from "./expression.js";
import { OpeningFacts } from "./facts.js";
import { headlineOf } from "./headline.js";
import { Diagrams, Kleene, TooManyWays, support } from "./logic.js";
import { opened } from "./opened.js";
import { surveyOf } from "./survey.js";
import { compareText } from "./text.js";

// What stands where there is no answer here: whatever went wrong, nothing is guessed.
const FAILED = {
  failed: true, powered_closing: "unknown", regime: null, no_rules: false, deciding_facts: [], deciding_sets: [],
  rules: [], devices: [], unknown: [], headline: null, mistakes: {}, unsure: {}, members: {},
};

// The answer for one opening. "told" is {country, site: [entry…], opening: [entry…]}, an entry as in
// survey/entries.py. With "failed" there is none: only the server can tell.
export function answer(book, told) {
  try {
    return assessed(opened(book), told);
  } catch {
    return { ...FAILED };
  }
}

function assessed(rules, told) {
  const { site, opening, mistakes, unsure, members } = surveyOf(rules, told);
  const judge = judgeOf(rules, site, opening);
  const duty = dutyOf(judge, site, opening);
  return {
    failed: false,
    ...duty,
    unknown: unknownOf(duty),
    headline: headlineOf(rules, opening, duty),
    mistakes,
    unsure,
    members,
  };
}

// One opening with both ways of reasoning about it.
function judgeOf(rules, site, opening) {
  const facts = new OpeningFacts(rules, site, opening);
  const diagrams = new Diagrams(rules.limits.nodes);
  return {
    rules,
    diagrams,
    exact: new Evaluator(rules, facts, diagrams),
    kleene: new Evaluator(rules, facts, new Kleene()),
  };
}

function dutyOf(judge, site, opening) {
  const { rules, kleene } = judge;
  const noRules = !areRulesKnownAt(rules, site);
  let [closing, deciding] = settled(judge);
  if (noRules) [closing, deciding] = [closing === "no" && kleene.value(DEFEATED) === true ? "no" : "unknown", []];
  const regime = rules.book.regimes.find((each) => kleene.value(applies(each)) === true)?.id ?? null;
  return {
    powered_closing: closing,
    regime,
    no_rules: noRules,
    deciding_facts: deciding,
    deciding_sets: deciding.length ? [deciding] : [],
    rules: rules.book.rules.map((rule) => ruleVerdict(judge, rule)),
    devices: deviceStandings(kleene, opening),
  };
}

// Whether rules are known for the place, or may be where the country is in doubt.
function areRulesKnownAt(rules, site) {
  const country = site.get("country");
  const possible = country.known ? [country.value] : country.rivals.filter(Boolean);
  return !possible.length || possible.some((each) => rules.book.regimes.some(({ where }) => where.includes(each)));
}

const DEFEATED = ["call", "defeated"];

const applies = ({ where, when }) => ["and", ["compare", "in", ["site", "country"], ["const", where]], when];

// What lets a leaf close under power anywhere: nothing defeated, and the rules of its place allow it.
function closing(rules) {
  const allowed = rules.book.regimes.map((each) => ["and", applies(each), each.allows]);
  return ["and", ["not", DEFEATED], ["or", ...allowed]];
}

// The answer and the facts that decide it, exact; where too much is entangled, what three values can tell.
function settled({ rules, diagrams, exact, kleene }) {
  let [said, facts] = ["unknown", []];
  try {
    const outcome = exact.value(closing(rules));
    said = answerOf(typeof outcome === "boolean" ? outcome : null);
    facts = support(outcome).map((each) => each.fact);
  } catch (error) {
    if (!(error instanceof TooManyWays)) throw error;
    said = answerOf(kleene.value(closing(rules)));
    facts = [...diagrams.facts];
  }
  if (said !== "unknown") return [said, []];
  const inOrder = (one, other) => rules.rank(one) - rules.rank(other) || compareText(one, other);
  return [said, [...new Set(facts)].sort(inOrder)];
}

// The verdict of one rule, by three values.
function judged({ kleene }, rule) {
  const when = kleene.value(rule.when);
  if (when === false) return "not applicable";
  const holds = kleene.value(rule.holds);
  if (when === null || holds === null) return "unknown";
  return holds ? "holds" : "fails";
}

function ruleVerdict(judge, rule) {
  const verdict = judged(judge, rule);
  return { id: rule.id, verdict, waits_for: verdict === "unknown" ? waitsFor(judge.exact, rule) : [] };
}

// The unknown facts that a rule waits for; none where too much is entangled to tell.
function waitsFor(exact, { when, holds }) {
  try {
    const parts = [when, holds, ["and", when, holds]].map((part) => exact.value(part));
    return [...new Set(parts.flatMap((part) => support(part).map((each) => each.fact)))];
  } catch (error) {
    if (!(error instanceof TooManyWays)) throw error;
    return [];
  }
}

// What is not known, as it matters for the answer and for the rules. What moves the numbers of a contact stands in
// the server's list as well: it needs the mechanics, which a phone does not compute.
function unknownOf(duty) {
  const decides = new Map(duty.deciding_facts.map((fact) => [fact, ["duty.powered_closing"]]));
  for (const { id, waits_for: facts } of duty.rules) {
    for (const fact of facts) decides.set(fact, [...(decides.get(fact) ?? []), `duty.${id}`]);
  }
  return [...decides].map(([fact, what]) => ({ fact, decides: what }));
}
