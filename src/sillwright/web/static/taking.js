// The page of facts: sends one answer at a time without loading anew, reads back what is typed, keeps drafts.
import { send } from "./net.js";
import { mode, open, withMetres } from "./keys.js";

const told = document.getElementById("told").dataset;
const status = document.getElementById("status");
const undo = document.getElementById("undo");
const draftOf = (fact) => `draft ${told.who} ${told.about} ${fact}`;
const originOf = (fact) => `origin ${told.who} ${told.about} ${fact}`;
const factOf = (element) => element.closest("[data-fact]")?.dataset.fact ?? "";
const say = (words) => { status.textContent = words; };

function today() {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
}

// What a new piece of the page needs: the device's own day, the origin used last, what was typed and not kept.
function prepare(piece) {
  for (const input of piece.querySelectorAll("input[data-today]")) input.value = today();
  for (const input of piece.querySelectorAll("[data-entry=quantity]")) {
    const below = [...input.closest(".field").querySelectorAll("[data-unit]")].some((key) => key.dataset.unit.includes("°"));
    if (!below) input.inputMode = "decimal"; // the unit has its keys; degrees need a minus sign
  }
  for (const form of piece.querySelectorAll("form[data-fact]")) {
    const origin = localStorage.getItem(originOf(form.dataset.fact));
    const chip = origin && [...form.querySelectorAll("[name=origin]")].find((each) => each.value === origin);
    if (chip) chip.checked = true;
    const draft = JSON.parse(localStorage.getItem(draftOf(form.dataset.fact)) ?? "null");
    if (!draft || fields(form).some((field) => field.value)) continue;
    for (const field of fields(form)) field.value = draft[field.name] ?? "";
    wrong(form, told.draft);
  }
}

const fields = (form) => [...form.querySelectorAll("input[name=typed], textarea[name=typed], .date input, .date select")];

function wrong(form, words) {
  const line = form.querySelector("[data-wrong]");
  if (!line) return say(words);
  line.hidden = !words;
  line.textContent = words;
}

// Sending

function sent(form, button) {
  const data = Object.fromEntries([...new FormData(form)].filter(([name]) => name !== "csrfmiddlewaretoken"));
  if (button?.name && button.name !== "keep") data[button.name] = button.value;
  if (data.says) delete data.typed;
  return { ...data, at: new Date().toISOString() };
}

async function submit(form, button) {
  if (form.ariaBusy === "true") return;
  if (mode(told) === "metric") for (const field of form.querySelectorAll("[data-entry=length]")) field.value = withMetres(field.value);
  const data = sent(form, button);
  form.ariaBusy = "true";
  say(told.busy);
  let answer;
  try {
    answer = await send(form.getAttribute("action"), data);
  } catch {
    say(told.offline);
    return wrong(form, told.offline);
  } finally {
    form.ariaBusy = "false";
  }
  if (answer.ok && answer.body?.kept) return kept(answer.body, data);
  const why = answer.body?.refused ?? (answer.status === 401 || answer.status === 403 ? told.signedOut : told.failed);
  say(why);
  wrong(form, why);
}

function kept(body, data) {
  localStorage.removeItem(draftOf(body.fact));
  if (data.origin) localStorage.setItem(originOf(body.fact), data.origin);
  if (!body.card) return location.reload();
  redraw(body);
  replaceCard(body);
  const history = document.getElementById("history");
  if (history && body.history) history.innerHTML = body.history;
  say(body.mistake ? `${body.status} ${body.mistake}` : body.status);
  if (undo) {
    undo.hidden = Boolean(data.undo);
    undo.elements.fact.value = body.fact;
    undo.elements.key.value = fresh();
    undo.elements.undo.value = body.id;
  }
}

function fresh() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 15) | 64;
  bytes[8] = (bytes[8] & 63) | 128;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

function replaceCard(body) {
  const old = document.getElementById(`f-${body.fact}`);
  if (!old) return;
  const holder = document.createElement("div");
  holder.innerHTML = body.card;
  const made = holder.firstElementChild;
  old.replaceWith(made);
  prepare(made.parentElement);
  (made.querySelector("summary, h2, h3"))?.focus({ preventScroll: true });
}

function redraw(body) {
  const map = document.getElementById("map");
  if (map && body.drawing) map.innerHTML = body.drawing;
  for (const [id, words] of [["headline", body.headline], ["progress", body.progress]]) {
    const line = document.getElementById(id);
    if (line && words) line.textContent = words;
  }
  for (const card of document.querySelectorAll("[data-place]")) {
    const found = body.windows?.[card.dataset.place];
    const shown = found && card.querySelector('.window use[href="#map-picture"]');
    if (!shown) continue;
    const [view, ...box] = found;
    shown.closest("svg").setAttribute("viewBox", view);
    ["x", "y", "width", "height"].forEach((name, at) => shown.nextElementSibling.setAttribute(name, box[at]));
  }
}

// Reading back

let waiting = 0;

async function readBack(input, units = "") {
  const line = input.closest(".field")?.querySelector(".readback");
  if (!line) return;
  const typed = input.value;
  const show = (words, kind = "") => { line.textContent = words; line.className = `readback scripted ${kind}`; };
  if (!typed.trim()) return show("");
  const fact = factOf(input) || input.id.replace(/^v-/, "");
  const answer = await send(told.read, { fact, typed }).catch(() => null);
  if (!answer?.body || input.value !== typed) return;
  const { words_us: us, words_metric: metric, mistake, doubtful } = answer.body;
  if (units && answer.body[units]) {
    input.value = answer.body[units];
    keepDraft(input);
  }
  if (mistake) show(mistake, "is-wrong");
  else if (doubtful) show(doubtful, "is-doubtful");
  else show(us === metric ? us : told.units === "us" ? `${us} = ${metric}` : `${metric} = ${us}`);
}

function keepDraft(field) {
  const form = field.form;
  if (!form?.dataset.fact || !fields(form).includes(field)) return;
  const typed = Object.fromEntries(fields(form).filter((each) => each.value).map((each) => [each.name, each.value]));
  if (Object.keys(typed).length) localStorage.setItem(draftOf(form.dataset.fact), JSON.stringify(typed));
  else localStorage.removeItem(draftOf(form.dataset.fact));
}

// Pieces that are fetched when they are opened

async function fetched(details) {
  const address = details.dataset.fetch;
  if (!address || !details.open) return;
  delete details.dataset.fetch;
  const page = undo?.elements.page?.value ?? "facts";
  try {
    const answer = await fetch(`${address}${address.includes("?") ? "&" : "?"}part&page=${page}`, { credentials: "same-origin" });
    if (!answer.ok || answer.redirected) throw new Error(answer.status);
    const holder = document.createElement("div");
    holder.innerHTML = await answer.text();
    const inner = holder.querySelector(".question.ask");
    if (inner && details.matches(".told")) {
      inner.id = `in-${details.dataset.fact}`;
      delete inner.dataset.fact;
    }
    details.querySelector("summary").after(...holder.childNodes); // the link to the page of its own comes after it
    prepare(details);
  } catch {
    details.dataset.fetch = address; // the link inside still leads there
  }
}

// What people do

let here = null; // the card or row where somebody was last

document.addEventListener("submit", (event) => {
  if (!event.target.matches("form[data-say]")) return;
  event.preventDefault();
  submit(event.target, event.submitter);
});
document.addEventListener("toggle", (event) => {
  if (event.target.matches?.("details[data-fetch]")) fetched(event.target);
}, true);
document.addEventListener("input", (event) => {
  const field = event.target;
  keepDraft(field);
  if (!field.matches?.("[data-entry=length], [data-entry=quantity]")) return;
  clearTimeout(waiting);
  waiting = setTimeout(() => readBack(field), 250);
});
document.addEventListener("paste", (event) => {
  const field = event.target;
  if (!field.matches?.("[data-entry=length]") || mode(told) !== "metric") return;
  setTimeout(() => { field.value = withMetres(field.value); readBack(field); keepDraft(field); });
});
document.addEventListener("click", (event) => {
  const unit = event.target.closest?.("[data-unit]");
  if (!unit) return;
  const field = unit.closest(".field").querySelector("input");
  field.value = `${field.value.replace(/[^\d.,+-]+.*$/u, "").trim()} ${unit.dataset.unit}`.trim();
  field.dispatchEvent(new Event("input", { bubbles: true }));
});
document.addEventListener("focusin", (event) => {
  if (event.target.matches?.("input[data-entry=length]")) open(event.target, told, readBack);
  here = event.target.closest?.("[data-fact]:is(section, details)") ?? here;
  const place = event.target.closest?.("[data-place]")?.dataset.place;
  for (const each of document.querySelectorAll("#map .pointed")) each.classList.remove("pointed");
  if (place) document.querySelector(`#map [data-place="${CSS.escape(place)}"]`)?.classList.add("pointed");
});
document.getElementById("next")?.addEventListener("click", (event) => {
  event.preventDefault();
  const cards = [...document.querySelectorAll(".question.ask")].filter((each) => each.offsetParent && !each.closest("details.told"));
  const next = cards.find(here?.isConnected ? after : (each) => each.getBoundingClientRect().top > 80) ?? cards[0];
  if (!next || next === here) return say(told.last);
  if (next.matches("details")) next.open = true;
  next.querySelector("h3, summary").focus({ preventScroll: true });
  next.scrollIntoView({ block: "start" });
});

// Whether a card stands below the card or row where somebody was last, and not inside it.
function after(card) {
  return here !== card && !here.contains(card) && here.compareDocumentPosition(card) & Node.DOCUMENT_POSITION_FOLLOWING;
}

prepare(document);
