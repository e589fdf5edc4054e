// The list of the evening from what this phone keeps. A door that changed since it was studied is weighed here, by the
// rules alone: with the findings of the study it can only become heavier.
import { weighHere } from "../evaluating.js";
import { comesTo, headsAt } from "./door.js";
import { el } from "./draw.js";
import { doors, now, photosAt } from "./now.js";
import { missing, remarksOf, temporary, urgencyOf } from "./state.js";
import { book, lackInWords, say, site, urgencyInWords } from "./words.js";

const weighed = new Map(); // what a door comes to here, by its id, until it changes

let redrawn = () => {};
export const whenWeighed = (run) => { redrawn = run; };

// Weigh the doors that have no answer of the study.
async function weigh() {
  const open = doors().filter((each) => !each.answer && weighed.get(each.id)?.door !== each);
  for (const door of open) {
    const held = comesTo(headsAt(door, "operator.closing_control")).head?.typed === "held";
    weighed.set(door.id, { door, ...(await weighHere(now.told, door.id, held).catch(() => null)) });
  }
  if (open.length) redrawn();
}

const order = () => [...book.urgencies.map(([word]) => word), ""];
const here = (door) => (door.answer ? null : weighed.get(door.id));

function weightOf(door) {
  const [said, found] = [urgencyOf(book, door).word, here(door)?.weight ?? ""];
  return order().indexOf(said) <= order().indexOf(found) ? said : found;
}

export function eveningPage() {
  weigh();
  const all = doors();
  const parts = order().map((weight) => [weight, all.filter((each) => weightOf(each) === weight)]).filter(([, some]) => some.length);
  const title = (weight) => (weight ? urgencyInWords(weight).replace(/^./u, (sign) => sign.toUpperCase()) : say("eveningRest"));
  return [
    el("h1", { tabindex: "-1" }, say("evening")),
    el("p", { class: "notice" }, say("eveningHere"), " ", now.online ? el("a", { href: `/sites/${site}/evening/` }, say("eveningWhole")) : null),
    el("p", {}, parts.map(([weight, some]) => `${title(weight)}: ${some.length}`).join(" · ")),
    el("div", { class: "evening" }, ...parts.map(([weight, some]) => el(
      "section", { "aria-labelledby": `e-${weight || "rest"}` }, el("h2", { id: `e-${weight || "rest"}` }, title(weight)), ...some.map(line),
    ))),
  ];
}

function line(door) {
  const { study, words } = urgencyOf(book, door);
  const lacks = missing(book, door, photosAt(door.id)).map(lackInWords);
  const found = here(door);
  const own = found?.headline ? say("eveningWorked", { headline: found.headline }) : say("eveningOpen");
  const said = [
    ...words.map((each) => say("by", { word: urgencyInWords(each.words), name: each.author })),
    door.answer ? [study ? say("eveningStudy", { word: urgencyInWords(study) }) : "", door.answer.headline].filter(Boolean).join(" ") : own,
    ...temporary(door).map((what) => say("temporary", { tag: door.tag, what: what || say("part") })),
    ...remarksOf(door, "remark").map((each) => `“${each.words}” – ${each.author}`),
    lacks.length ? say("begun", { what: lacks.join(", ") }) : "",
  ];
  return el(
    "div", { class: "line-of", "data-tag": door.tag }, el("h3", {}, el("a", { href: `#door=${door.id}` }, door.tag)),
    el("ul", {}, ...said.filter(Boolean).map((each) => el("li", {}, each))),
  );
}
