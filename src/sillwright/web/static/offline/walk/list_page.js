// The list of a walk: every door in walking order with how far it is, and the way to the next one.
import { freshId } from "../store.js";
import { el, key } from "./draw.js";
import { doors, now, onlyHere, photosAt, tellStatus, write } from "./now.js";
import { missing, nextDoor, nextTag, othersAt, stateOf, temporary, urgencyOf } from "./state.js";
import { book, clock, lackInWords, say, site, urgencyInWords } from "./words.js";

const LONGEST_TAG = 100;
const HERE = `walk at ${site}`;
const NAMED = 3; // missing things of a door that its line names

export const wasAt = () => sessionStorage.getItem(HERE);
export const isAt = (id) => sessionStorage.setItem(HERE, id);

export function stateInWords(door) {
  const state = stateOf(book, door, photosAt(door.id));
  if (state === "not-begun") return say("notBegun");
  if (state === "done") return say("done");
  const words = missing(book, door, photosAt(door.id)).map(lackInWords);
  const more = words.length > NAMED ? ` + ${words.length - NAMED}` : "";
  return say("begun", { what: words.slice(0, NAMED).join(", ") + more });
}

function line(door) {
  const { word } = urgencyOf(book, door);
  const here = onlyHere(door.id);
  const state = stateOf(book, door, photosAt(door.id));
  const notes = [
    ...othersAt(door, now.who?.name).slice(0, 2).map(({ author, at }) => say("atIt", { name: author, time: clock(at) })),
    here ? say("here", { count: here }) : "",
  ].filter(Boolean);
  return el("li", {}, el(
    "a", { class: `card door ${state} ${word}`, href: `#door=${door.id}`, id: `go-${door.id}` },
    el("strong", {}, door.tag), word ? el("span", { class: "urgent" }, urgencyInWords(word)) : null,
    el("span", { class: "said" }, stateInWords(door)),
    ...temporary(door).map((what) => el("span", { class: "said wrong" }, say("temporary", { tag: door.tag, what: what || say("part") }))),
    ...notes.map((each) => el("span", { class: "said small" }, each)),
  ));
}

export function listPage() {
  const all = doors();
  const here = now.waiting.length + now.photos.length;
  const done = all.filter((each) => stateOf(book, each, photosAt(each.id)) === "done").length;
  return [
    el("h1", { tabindex: "-1" }, say("title", { site: now.told.site.name })),
    el("p", {}, all.length ? say("count", { done, all: all.length }) : say("none"), " ", here ? el("a", { href: "/here/" }, say("here", { count: here })) : null),
    el("ol", { class: "cards" }, ...all.map(line)),
    ...(now.told.site.may_write ? [tagField(all)] : [el("p", { class: "notice" }, say("readOnly"))]),
    el("p", { class: "row" }, el("a", { class: "button", id: "evening", href: now.online ? `/sites/${site}/evening/` : "#evening" }, say("evening"))),
    el("p", { class: "small" }, now.online ? say("signal", { time: now.heard }) : say("noSignal")),
    el("p", { class: "small" }, now.awake === null ? "" : say(now.awake ? "wakeOn" : "wakeOff")),
  ];
}

let typed = null; // the tag that somebody wrote for the next door

const tagFor = (all) => typed ?? nextTag(all.map((each) => each.tag));

function tagField(all) {
  const oninput = (event) => {
    typed = event.target.value;
    const made = document.getElementById("new-door");
    if (made) made.textContent = say("new", { tag: typed.trim() });
  };
  return el(
    "div", { class: "field" }, el("label", { for: "new-tag" }, say("newTag")),
    el("input", { id: "new-tag", value: tagFor(all), maxlength: String(LONGEST_TAG), autocomplete: "off", enterkeyhint: "done", oninput }),
  );
}

// The keys at the thumb: on with the walk, or a door that nobody has noted yet.
export function listWays() {
  const all = doors();
  const next = nextDoor(book, all, photosAt, wasAt());
  const make = now.told.site.may_write ? newDoorKey(next ? "" : "main") : null;
  return [
    next ? el("a", { class: "button main", id: "next", href: `#door=${next.id}` }, say("next", { tag: next.tag })) : make,
    el("div", { class: "row" }, next ? make : null, el("a", { class: "button", href: "#leave" }, say("leave"))),
  ];
}

export function newDoorKey(kind) {
  return key("new-door", () => makeDoor(), { class: kind }, say("new", { tag: tagFor(doors()) }));
}

async function makeDoor() {
  const tag = tagFor(doors()).split(/\s+/).filter(Boolean).join(" ");
  if (!tag || [...tag].length > LONGEST_TAG) return tellStatus(say("noTag"));
  if (doors().some((each) => each.tag === tag)) return tellStatus(say("taken", { tag }));
  const id = freshId();
  typed = null;
  if (await write([{ kind: "opening", id, site, tag, title: tag }], say("made", { tag }))) location.hash = `door=${id}`;
  return undefined;
}
