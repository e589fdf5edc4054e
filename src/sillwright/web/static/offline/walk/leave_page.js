// Before you leave: which door lacks what. What is left out on purpose says why and no longer counts.
import { el, key } from "./draw.js";
import { about, doors, photosAt, write } from "./now.js";
import { remark } from "./says.js";
import { missing, temporary } from "./state.js";
import { book, lackInWords, say } from "./words.js";

export function leavePage() {
  const all = doors();
  const open = all.filter((each) => missing(book, each, photosAt(each.id)).length || temporary(each).length);
  return [
    el("h1", { tabindex: "-1" }, say("leave")),
    el("p", { class: "headline" }, open.length ? say("leaveSome", { count: open.length, all: all.length }) : say("leaveNone", { count: all.length })),
    ...open.map(part),
  ];
}

function part(door) {
  const open = missing(book, door, photosAt(door.id));
  return el(
    "section", { class: "card lacking-door", "aria-labelledby": `l-${door.id}` },
    el("h2", { id: `l-${door.id}` }, door.tag),
    ...temporary(door).map((what) => partInPlace(door, what)),
    open.length ? el("p", {}, say("begun", { what: open.map(lackInWords).join(", ") })) : null,
    open.length ? el("p", { class: "row" }, el("a", { class: "button", href: `#door=${door.id}` }, say("go", { tag: door.tag }))) : null,
    open.length ? leaving(door, open) : null,
  );
}

function partInPlace(door, what) {
  return el(
    "div", { class: "finding stop" }, el("p", {}, say("temporary", { tag: door.tag, what: what || say("part") })), el("p", {}, say("notLeft")),
    el("p", { class: "row" }, el("a", { class: "button", href: `/openings/${door.id}/list/temporary_parts/` }, say("takeOut"))), el("p", { class: "small" }, say("booking")),
  );
}

function leaving(door, open) {
  const out = (these, why) => write(
    these.map((each) => remark(about(door), "left", why, [], each.about)),
    `${door.tag}: ${say("leftSaid", { what: these.map(lackInWords).join(", "), why })}`,
  );
  const keys = (these, name, title) => el(
    "fieldset", {}, el("legend", {}, title),
    el("div", { class: "row reasons" }, ...book.reasons.map((why, number) => key(`left-${door.id}-${name}-${number}`, () => out(these, why), {}, why))),
  );
  const each = open.map((one) => keys([one], one.about, say("leftOne", { what: lackInWords(one) })));
  return el("details", { id: `out-${door.id}` }, el("summary", {}, say("left")), open.length > 1 ? keys(open, "all", say("leftAll", { tag: door.tag })) : null, ...each);
}
