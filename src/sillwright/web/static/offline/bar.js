// One line at the foot of every page: what is on this phone only, since when, and what keeps it here. Nothing is shown
// when everything is sent. It lies over the page and moves nothing; a page with buttons at the thumb has it above them.
import { onChange, person, rememberPerson, state } from "./outbox.js";
import { keepSending, status } from "./sync.js";
import { ago, counted, filled, moment } from "./words.js";

const bar = document.getElementById("here-bar");
const CALM = 1500; // an answer that is sent at once is not worth a line, ms
let shown = 0;

const quietly = (run) => run().catch(() => {}); // where the browser keeps nothing, nothing waits

async function look() {
  const who = await person();
  const found = who ? await state(who.id) : null;
  const some = found && found.waiting + found.photos + found.refused > 0;
  clearTimeout(shown);
  if (!some) return hide();
  if (!bar.hidden) return show(found);
  shown = setTimeout(() => quietly(lookAgain), CALM);
  return undefined;
}

async function lookAgain() {
  const who = await person();
  const found = await state(who.id);
  if (found.waiting + found.photos + found.refused > 0) show(found);
}

function hide() {
  bar.hidden = true;
  document.documentElement.classList.remove("has-bar");
}

function show(found) {
  const words = bar.dataset;
  const parts = [["entries", found.waiting], ["photos", found.photos]].filter(([, number]) => number);
  const counts = parts.map(([name, number]) => counted(words, name, number)).join(words.and);
  const age = found.oldest ? ago(words, found.oldest) : "";
  const since = filled(age ? words.sinceAge : words.since, { time: moment(found.oldest), age });
  put("[data-count]", counts ? `${filled(words.here, { counts })}${since}` : "");
  put("[data-state]", { sending: words.sending, offline: words.offline, failed: words.failed }[status.state] ?? "");
  put("[data-refused]", found.refused ? counted(words, "refused", found.refused) : "");
  bar.querySelector("[data-sign-in]").hidden = status.state !== "signed-out";
  bar.hidden = false;
  document.documentElement.classList.add("has-bar");
}

function put(part, words) {
  const place = bar.querySelector(part);
  if (place.textContent !== words) place.textContent = words;
}

// The buttons at the thumb keep their place: the line stands above them.
function above() {
  const thumb = document.querySelector(".thumb");
  if (!thumb) return;
  const measure = () => document.documentElement.style.setProperty("--thumb", `${Math.round(thumb.getBoundingClientRect().height)}px`);
  new ResizeObserver(measure).observe(thumb);
  measure();
}

if (bar) {
  above();
  onChange(() => quietly(look));
  setInterval(() => quietly(look), 60_000);
  quietly(rememberPerson);
  quietly(look);
  quietly(keepSending);
}
