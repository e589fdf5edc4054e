// What was typed as the value of a fact. The twin of survey/questions.py and survey/values.py.
// Values are numbers, words, true and false, {first, last} of a date, lists of words or of pairs, and money.
import { readInterval } from "./dates.js";
import { opened } from "./opened.js";
import { isDecimalFeet, parseQuantity } from "./quantity.js";
import { CannotTell, Refused } from "./refusals.js";
import { folded, lengthOf, plainDigits } from "./text.js";

// What a text comes to at a fact: {ok: true, value}, or {ok: false}, with "unsure" where only the server can tell.
export function read(book, path, typed) {
  try {
    const rules = opened(book);
    const spec = rules.specAt(path);
    if (!spec) return { ok: false };
    return { ok: true, value: readValue(rules, spec, path, typed) };
  } catch (error) {
    return error instanceof Refused ? { ok: false } : { ok: false, unsure: true };
  }
}

// The value; throws Refused where the server would, CannotTell where only the server can tell.
export function readValue(rules, spec, path, typed) {
  const reader = READERS[spec.kind];
  if (!reader) throw new CannotTell(spec.kind);
  const value = reader(rules, spec, rules.trimmed(typed));
  if (path === "site.country" && !rules.countries.has(value)) throw new Refused(typed);
  return value;
}

// Whether a length was typed in a way that can be read two ways.
export function isDoubtful(rules, spec, typed) {
  return spec.kind === "quantity" && spec.unit === "m" && isDecimalFeet(rules, rules.trimmed(typed));
}

const READERS = {
  quantity: (rules, spec, words) => inside(spec, parseQuantity(rules, words, spec.unit)),
  count: (rules, spec, words) => whole(spec, inside(spec, plainNumber(words))),
  choice: readChoice,
  text: (rules, spec, words) => readText(rules, words),
  flag: readFlag,
  date: readDate,
  money: readMoney,
  texts: readTexts,
  points: readPoints,
};

function inside({ limits }, value) {
  const allowed =
    Number.isFinite(value) &&
    (limits.above === undefined || value > limits.above) &&
    (limits.at_least === undefined || value >= limits.at_least) &&
    (limits.below === undefined || value < limits.below) &&
    (limits.at_most === undefined || value <= limits.at_most);
  if (!allowed) throw new Refused(String(value));
  return value;
}

// Some things come in whole ones only.
function whole(spec, value) {
  if (spec.whole && !Number.isInteger(value)) throw new Refused(String(value));
  return value;
}

const DIGITS = "\\d+(?:_\\d+)*"; // the server takes 1_000 as a thousand
const NUMBER = new RegExp(`^[+-]?(?:${DIGITS}(?:\\.(?:${DIGITS})?)?|\\.${DIGITS})(?:[eE][+-]?${DIGITS})?$`);

function plainNumber(words) {
  const plain = plainDigits(words);
  if (!NUMBER.test(plain)) throw new Refused(words);
  return Number(plain.replaceAll("_", ""));
}

function readChoice(rules, spec, words) {
  const said = words.replace(rules.patterns.aside, ""); // what stands in brackets at the end is a reason
  const word = spec.synonyms.get(said) ?? said;
  if (!spec.choices.includes(word)) throw new Refused(words);
  return word;
}

function readText(rules, words) {
  if (!words || lengthOf(words) > rules.limits.text || rules.patterns.control.test(words)) throw new Refused(words);
  return words;
}

function readFlag(rules, spec, words) {
  const value = rules.yes.get(folded(words));
  if (value === undefined) throw new Refused(words);
  return value;
}

function readDate(rules, spec, words) {
  const interval = readInterval(rules.patterns.date, words);
  if (!interval) throw new Refused(words);
  return interval;
}

const PERIODS = { hour: "h", day: "d" };

function readMoney(rules, spec, words) {
  const match = rules.patterns.money.exec(words);
  if (!match) throw new Refused(words);
  return { amount: Number(match[1]), currency: match[2], per: PERIODS[match[3]] ?? match[3] ?? null };
}

function parts(rules, words) {
  const found = words.split(";").filter((word) => rules.trimmed(word));
  if (found.length > rules.limits.list) throw new Refused(words);
  return found;
}

function readTexts(rules, spec, words) {
  if (folded(words) === "none") return [];
  return parts(rules, words).map((word) => readText(rules, rules.trimmed(word)));
}

function readPoints(rules, spec, words) {
  return parts(rules, words).map((pair) => {
    const ends = pair.split(",");
    if (ends.length !== 2) throw new Refused(pair);
    return ends.map((end) => inside(spec, parseQuantity(rules, rules.trimmed(end), spec.unit)));
  });
}
