// What this phone can work out by itself: the answer for an opening and what a typed value comes to. The scripts that
// reason are loaded when they are asked for the first time.
import { site, toldOf } from "./outbox.js";

const BOOK = "/offline/book.json";
let parts = null;

function loaded() {
  parts ??= Promise.all([
    fetch(BOOK, { credentials: "same-origin" }).then((answer) => (answer.ok && !answer.redirected ? answer.json() : Promise.reject(new TypeError(BOOK)))),
    import("./evaluator/answer.js"),
    import("./evaluator/say.js"),
    import("./evaluator/reading.js"),
    import("./evaluator/opened.js"),
  ]).catch((error) => { parts = null; throw error; });
  return parts;
}

// The answer for an opening by what is on this phone: {headline, deciding, unknown}, each fact as {fact, words}.
// Nothing where the site was never kept here, or where only the server can tell.
export async function answerHere(siteId, opening) {
  const here = await site(siteId);
  if (!here?.openings.some((each) => each.id === opening)) return null;
  const [book, { answer }, { factInWords, headlineInWords }] = await loaded();
  const found = answer(book, toldOf(here, opening));
  if (found.failed) return null;
  const named = (fact) => ({ fact: memberOf(found.members, fact), words: factInWords(book, fact) });
  const deciding = found.deciding_facts.map(named);
  const others = found.unknown.filter(({ fact }) => !found.deciding_facts.includes(fact));
  return { headline: headlineInWords(book, found), deciding, unknown: others.map(({ fact }) => named(fact)) };
}

// What a door comes to by the rules alone: its sentence, and how urgent that is at least. Nothing where only the server
// can tell. A leaf that moves only while somebody holds the control is watched, whatever the rules say of closing.
export async function weighHere(kept, opening, held) {
  const [book, { answer }, { headlineInWords }] = await loaded();
  const found = answer(book, toldOf(kept, opening));
  if (found.failed) return null;
  const weight = { no: held ? "watch" : "stop", unknown: "quote", yes: "" }[found.powered_closing];
  return { headline: headlineInWords(book, found), weight };
}

// How an entry calls a fact that the answer calls stations[0].closes.
function memberOf(members, fact) {
  const end = fact.indexOf("]") + 1;
  return end ? (members[fact.slice(0, end)] ?? fact.slice(0, end)) + fact.slice(end) : fact;
}

// What this phone goes by.
export const bookHere = async () => (await loaded())[0];

// What was typed, as this phone reads it: {wrong} where it cannot be used, {back} a length in metres; {metres} of a
// length, and whether it is {doubtful}: feet with a decimal point can be read two ways.
export async function readHere(path, typed) {
  const [book, , , { isDoubtful, read }, { opened }] = await loaded();
  const found = read(book, path, typed);
  if (!found.ok) return { wrong: !found.unsure, back: "", metres: null, doubtful: false };
  const spec = opened(book).specAt(path);
  if (spec?.unit !== "m" || typeof found.value !== "number") return { wrong: false, back: "", metres: null, doubtful: false };
  const back = /\dm$|m\s*$/.test(typed) ? "" : `${found.value.toFixed(3)} m`;
  return { wrong: false, back, metres: found.value, doubtful: isDoubtful(opened(book), spec, typed) };
}
