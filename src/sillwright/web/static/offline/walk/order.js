// Where a door comes in the walk: one key earlier, one later, or after any other door.
import { el, key } from "./draw.js";
import { about, doors, write } from "./now.js";
import { move } from "./says.js";
import { placeOf } from "./state.js";
import { say } from "./words.js";

export function placeInTheWalk(door) {
  const all = doors();
  if (all.length < 2) return null;
  const { number, before, earlier, later } = placeOf(all, door.id);
  const inWords = (after) => (after ? say("comesAfter", { tag: all.find((each) => each.id === after).tag }) : say("comesFirst"));
  const go = (after) => (after === before ? null : write([{ ...move(about(door), after, before), shown: inWords(after) }], `${door.tag}: ${inWords(after)}`));
  const step = (name, words, after) => (after === undefined ? null : key(name, () => go(after), { class: "grow" }, words));
  const others = all.filter((each) => each.id !== door.id);
  const chosen = el("select", { id: "after" }, ...[null, ...others.map((each) => each.id)].map(
    (after) => el("option", { value: after ?? "", selected: after === before }, inWords(after)),
  ));
  return el(
    "section", { "aria-labelledby": "h-order" }, el("h2", { id: "h-order" }, say("order")),
    el("p", {}, say("orderNow", { number, all: all.length })),
    el("p", { class: "row" }, step("earlier", say("oneEarlier"), earlier), step("later", say("oneLater"), later)),
    el("div", { class: "field" }, el("label", { for: "after" }, say("orderAt")), chosen),
    el("p", { class: "row" }, key("move", () => go(chosen.value || null), { class: "grow" }, say("move"))),
  );
}
