// One door of a walk: the question in front, three photos, how urgent it is, a remark, and what was said so far.
import { photographed } from "../shrink.js";
import { unkept } from "../../photos.words.js";
import { doorBefore, restOf, takenOver } from "./before.js";
import { el, key } from "./draw.js";
import { isAt, newDoorKey, stateInWords } from "./list_page.js";
import { about, doors, draft, keepDraft, now, onlyHere, photosAt, redraw, tellStatus, write } from "./now.js";
import { placeInTheWalk } from "./order.js";
import { lines, question } from "./question.js";
import { remark } from "./says.js";
import { nextDoor, othersAt, remarksOf, shotsOf, temporary, urgencyOf } from "./state.js";
import { book, clock, say, site, urgencyInWords } from "./words.js";

export function doorPage(door) {
  isAt(door.id);
  const like = doorBefore(book, doors(), door.id);
  const here = onlyHere(door.id);
  const notes = [
    ...othersAt(door, now.who?.name).map(({ author, at }) => say("atIt", { name: author, time: clock(at) })),
    ...temporary(door).map((what) => say("temporary", { tag: door.tag, what: what || say("part") })),
  ];
  return [
    el("h1", { tabindex: "-1" }, door.tag, " ", el("small", { id: "state" }, stateInWords(door)), here ? el("small", {}, say("here", { count: here })) : null),
    ...notes.map((each) => el("p", { class: "small" }, each)),
    now.told.site.may_write ? question(door, like) : el("p", { class: "notice" }, say("readOnly")),
    shots(door),
    urgency(door),
    remarks(door),
    el("h2", {}, say("answers")),
    lines(door, like),
    now.told.site.may_write ? placeInTheWalk(door) : null,
    more(door, like),
  ];
}

function shots(door) {
  return el(
    "section", { "aria-labelledby": "h-shots" }, el("h2", { id: "h-shots" }, say("photos")),
    el("div", { class: "three" }, ...book.shots.map((shot) => shotKey(door, shot))),
  );
}

const cameras = new Map(); // an input outlives what is drawn around it: the camera is open while the page is drawn anew

function cameraOf(door, shot) {
  const name = `${door.id} ${shot.name}`;
  if (!cameras.has(name)) {
    const input = el("input", { type: "file", accept: "image/*", capture: "environment", class: "unseen", id: `shot-${shot.name}` });
    input.addEventListener("change", () => take(door, shot, input));
    cameras.set(name, input);
  }
  return cameras.get(name);
}

function shotKey(door, shot) {
  const count = shotsOf(door, photosAt(door.id), shot).length;
  const input = cameraOf(door, shot);
  return el("label", { class: `button shot ${count ? "photographed" : ""}` }, input, el("span", {}, shot.words, el("small", {}, count ? say("shots", { count }) : say("noShot"))));
}

async function take(door, shot, input) {
  const [file] = input.files;
  if (!file) return;
  document.getElementById("photo-wrong").hidden = true;
  tellStatus(say("busy"));
  try {
    await photographed(file, { site, opening: door.id, shot: shot.name, fact: shot.fact, place: shot.place });
    await redraw();
    tellStatus(`${door.tag}: ${say("shotSaid", { what: shot.words })}`);
  } catch (error) {
    tellStatus("");
    unkept(error, document.getElementById("photo-wrong"));
  } finally {
    input.value = ""; // the same file may be chosen again
  }
}

function urgency(door) {
  const { word, study, words, lower } = urgencyOf(book, door);
  const left = remarksOf(door, "left").filter((each) => each.about === "urgency");
  const own = [...words, ...left].filter((each) => each.person === now.who?.id);
  const keep = (chosen, title) => write(
    [chosen ? remark(about(door), "urgency", chosen, own) : remark(about(door), "left", say("quietSaid"), own, "urgency")],
    `${door.tag}: ${chosen ? say("urgent", { word: title }) : say("quietSaid")}`,
  );
  const mine = own.find((each) => each.says === "urgency")?.words ?? (own.length ? "" : null);
  const option = (chosen, title) => key(`urgency-${chosen || "none"}`, () => keep(chosen, title), { class: `urge ${chosen}`, "aria-pressed": String(mine === chosen), disabled: lower.has(chosen) }, title);
  return el(
    "section", { "aria-labelledby": "h-urgency" }, el("h2", { id: "h-urgency" }, say("urgency"), word ? el("span", { class: "urgent" }, ` ${urgencyInWords(word)}`) : null),
    study ? el("p", {}, say("studySays", { word: urgencyInWords(study) })) : null,
    words.length ? el("p", {}, words.map((each) => say("by", { word: urgencyInWords(each.words), name: each.author })).join("; ")) : null,
    el("div", { class: "four" }, ...book.urgencies.map(([each, title]) => option(each, title.charAt(0).toUpperCase() + title.slice(1))), option("", say("quiet"))),
  );
}

function remarks(door) {
  const input = el("textarea", { id: "remark", rows: "2", maxlength: "4000", "aria-describedby": "remark-hint" });
  input.value = draft(door.id, "remark");
  input.addEventListener("input", () => keepDraft(door.id, "remark", input.value));
  const keep = async (event) => {
    event.preventDefault();
    if (!input.value.trim()) return input.focus();
    if (await write([remark(about(door), "remark", input.value)], `${door.tag}: ${say("remarked")}`)) {
      keepDraft(door.id, "remark", "");
      document.getElementById("remark").value = "";
    }
    return undefined;
  };
  const said = remarksOf(door, "remark");
  return el(
    "section", { "aria-labelledby": "h-remark" }, el("h2", { id: "h-remark" }, el("label", { for: "remark" }, say("remark"))),
    el("ul", { class: "remarks", hidden: !said.length }, ...said.map((each) => el("li", {}, each.words, el("span", { class: "from" }, each.author)))),
    el("form", { onsubmit: keep }, el("p", { class: "small", id: "remark-hint" }, say("remarkHint")), input, el("button", { class: "wide-key" }, say("keep"))),
  );
}

function more(door, like) {
  const rest = like ? restOf(book, like, door) : [];
  const over = () => write(takenOver(rest, about(door), say("compared", { tag: like.tag })), `${door.tag}: ${say("restSaid", { count: rest.length })}`);
  const pages = [["facts/", "allFacts"], ["photos/", "allPhotos"]].map(([path, name]) => el("a", { class: "button", href: `/openings/${door.id}/${path}` }, say(name)));
  return el(
    "section", { "aria-labelledby": "h-more" }, el("h2", { id: "h-more" }, say("more")),
    rest.length ? el("p", {}, key("rest", over, { class: "wide-key" }, say("rest", { tag: like.tag, count: rest.length }))) : null,
    door.here ? el("p", { class: "small" }, say("later")) : el("p", { class: "row" }, ...pages),
  );
}

export function doorWays(door) {
  const next = nextDoor(book, doors(), photosAt, door.id);
  const following = next && doors().indexOf(next) > doors().indexOf(door) ? next : null;
  const last = !following && now.told.site.may_write;
  const on = last ? newDoorKey("main") : next ? el("a", { class: "button main", id: "next", href: `#door=${next.id}` }, say("next", { tag: next.tag })) : null;
  return [el("div", { class: "beside-keys" }, el("a", { class: "button", href: "#" }, say("list")), on)];
}
