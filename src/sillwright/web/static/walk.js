// The page of a walk: shows the list, one door, or what is missing before one leaves – all from what this phone keeps.
import { onChange } from "./offline/outbox.js";
import { keepSending, refresh } from "./offline/sync.js";
import { stayAwake } from "./offline/walk/awake.js";
import { doorPage, doorWays } from "./offline/walk/door_page.js";
import { el, put } from "./offline/walk/draw.js";
import { eveningPage, whenWeighed } from "./offline/walk/evening_page.js";
import { leavePage } from "./offline/walk/leave_page.js";
import { listPage, listWays } from "./offline/walk/list_page.js";
import { doorAt, load, now, onDrawn } from "./offline/walk/now.js";
import { ask, whenTurned } from "./offline/walk/question.js";
import { clock, say, site } from "./offline/walk/words.js";

const LOOK = 20_000; // ms, between looks at what others wrote
const SOON = 150; // ms

const place = document.getElementById("walk");
const ways = document.getElementById("ways");
const route = () => /^#(?:door=([\w-]+)|(leave|evening))$/.exec(location.hash) ?? [];

function page() {
  if (!now.told) return [[el("h1", {}, document.title.split(" – ")[0]), el("p", { class: "notice" }, say(now.who ? "absent" : "signedOut"))], []];
  const [, id, name] = route();
  const all = el("a", { class: "button main", href: "#" }, say("list"));
  if (name) return [name === "leave" ? leavePage() : eveningPage(), [all]];
  if (!id) return [listPage(), listWays()];
  const door = doorAt(id);
  return door ? [doorPage(door), doorWays(door)] : [[el("h1", {}, say("noDoor"))], [all]];
}

function draw() {
  const folds = new Set([...place.querySelectorAll("details[open]")].map((each) => each.id));
  const [content, keys] = page();
  put(place, content);
  put(ways, keys);
  for (const each of place.querySelectorAll("details")) each.open = folds.has(each.id);
  stale = false;
  document.body.dataset.drawn = String(Number(document.body.dataset.drawn ?? 0) + 1);
}

// What comes from elsewhere is drawn when nobody types and no finger is down: a tap never lands on another key.
let pressed = false;
let later = 0;
let stale = false; // something came that is not drawn yet
const busy = () => pressed || typing();
const typing = () => place.contains(document.activeElement) && document.activeElement.matches("textarea, select, input:not([type=file])");

function drawLater() {
  clearTimeout(later);
  later = setTimeout(async () => {
    if (!busy() && (await load())) stale = true;
    if (busy()) return drawLater(); // again after the reading: a finger may have come down meanwhile
    if (stale) draw();
    return undefined;
  }, SOON);
}

addEventListener("pointerdown", () => { pressed = true; }, true);
for (const name of ["pointerup", "pointercancel"]) addEventListener(name, () => setTimeout(() => { pressed = false; }, SOON), true);

addEventListener("hashchange", async () => {
  ask();
  await load();
  draw();
  place.scrollIntoView();
  place.querySelector("h1")?.focus({ preventScroll: true });
});

async function look() {
  if (document.visibilityState !== "visible") return;
  const before = now.online;
  try {
    await refresh(site);
    Object.assign(now, { online: true, heard: clock(Date.now()) });
  } catch {
    now.online = false;
  }
  if (before !== now.online) now.stamp = "";
  drawLater();
}

onDrawn(draw);
whenTurned(draw);
whenWeighed(draw);
onChange(drawLater);
for (const name of ["online", "offline"]) addEventListener(name, look);
document.addEventListener("visibilitychange", look);
setInterval(look, LOOK);

await load().catch(() => {});
draw();
stayAwake((awake) => { if (now.awake !== awake) { now.awake = awake; now.stamp = ""; drawLater(); } });
await look();
keepSending();
