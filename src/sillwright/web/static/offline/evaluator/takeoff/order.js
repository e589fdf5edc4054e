// What to order for an opening by what is on this phone: lengths, where the lead comes out, the way to the operator. By
// the tables of the book alone (see offline/takeoff_book.py), equal to what the server says without a catalogue. What
// stands against an order only the server tells.
import { opened } from "../opened.js";
import { surveyOf } from "../survey.js";
import { bodiesOf } from "./bodies.js";
import { wayOf } from "./cord.js";
import { leadOf } from "./lead.js";

const NO_LEAD = { end: null, rule: "unknown", exit: null, from_end: null, length: null, fin: null, confirmed: false };
const NO_CORD = { kind: "unknown", retracted: null, longest: null, ratio: null, box_height: null };

// "told" as for answer.js. {bodies, lead, cord, unsure}: of the parts named in "unsure" only the server can tell, and
// nothing is said of them here.
export function orderOf(book, told) {
  const unsure = [];
  const part = (name, nothing, work) => {
    try {
      return work();
    } catch {
      unsure.push(name);
      return nothing;
    }
  };
  const held = part("survey", null, () => {
    const rules = opened(book);
    return { table: rules.book.takeoff, ...surveyOf(rules, told) };
  });
  return {
    bodies: part("bodies", [], () => bodiesOf(held.table, held.opening)),
    lead: part("lead", NO_LEAD, () => leadOf(held.table, held.opening)),
    cord: part("cord", NO_CORD, () => wayOf(held.table, held.site, held.opening)),
    unsure,
  };
}
