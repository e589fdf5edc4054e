// The page of facts: writes one answer at a time down and sends it without loading anew, reads back what is typed.
import { mode, open, withMetres } from "./keys.js";
import "./offline/answer_here.js";
import { overlay } from "./offline/cards.js";
import { saveAll } from "./offline/file.js";
import { give } from "./offline/giving.js";
import { said, undoing } from "./offline/saying.js";
import { send } from "./offline/sync.js";
import { takeBack } from "./offline/undo.js";
import { filled } from "./offline/words.js";
import { entriesOfNew, showNew } from "./taking.adding.js";
import { draw, drawAnew, fetched } from "./taking.drawing.js";
import { drafted, keepDraft, prepare, readBack, rememberOrigin, say, told, usedEvidence, wrong } from "./taking.fields.js";

const undo = document.getElementById("undo");

// Giving answers

let last = []; // what undo takes back
let unkept = []; // what there was no room for

async function submit(form, button) {
  if (form.ariaBusy === "true") return;
  if (mode(told) === "metric") for (const field of form.querySelectorAll("[data-entry=length]")) field.value = withMetres(field.value);
  form.ariaBusy = "true";
  try {
    await (button?.name === "undo" ? takeLastBack(form, button) : form.matches(".add") ? adding(form, button) : answer(form, button));
  } finally {
    form.ariaBusy = "false";
  }
}

function about(fact) {
  const title = document.getElementById(`f-${fact}`)?.dataset.title ?? fact;
  return { kind: "observation", site: told.site, ...(told.opening ? { opening: told.opening } : {}), title };
}

async function answer(form, button) {
  const one = said(form, button);
  if (one.says === "value" && !one.typed) return refuse(form, told.empty);
  return gave(form, [{ ...about(one.fact), ...one }], form.elements.page.value);
}

async function adding(form, button) {
  const made = await entriesOfNew(form, button);
  return made.length ? gave(form, made, form.elements.page.value) : refuse(form, told.empty);
}

async function gave(form, list, page, undone = false) {
  say(told.busy);
  const found = await give(list, { say: told.say, page });
  if (found.kept) return kept(found, undone);
  if (found.refused) return refuse(form, found.refused);
  if ("lost" in found) return lost(form, found);
  return waits(form, found.entries, undone);
}

// Neither this device nor the server has it: it stays where it was typed, and can be saved to a file.
function lost(form, { lost: code, entries }) {
  unkept = entries;
  document.getElementById("full").hidden = Boolean(code);
  return refuse(form, [401, 403].includes(code) ? told.signedOut : code ? told.failed : told.full);
}

function refuse(form, why) {
  say(why);
  wrong(form, why);
}

function kept({ kept: body, entries }, undone) {
  noted(entries, undone);
  if (!document.getElementById(`f-${body.fact}`)) return location.assign(`${location.pathname}?kept=${body.id}#f-${body.fact}`);
  if (!body.card) return location.reload();
  draw(body);
  say(body.mistake ? `${body.status} ${body.mistake}` : body.status);
}

// It waits on this device: its card says so, and the field is free again.
function waits(form, entries, undone) {
  noted(entries, undone);
  const [one] = entries;
  say(filled(told.kept, { fact: one.title, value: one.shown || one.typed || { unknown: told.unknown, none: told.none }[one.says] }));
  if (!form.matches("[data-fact], .add")) return;
  form.reset();
  wrong(form, "");
  for (const line of form.querySelectorAll(".readback")) line.textContent = "";
  prepare(form.parentElement);
}

function noted(entries, undone) {
  for (const each of entries) {
    drafted.then((drafts) => drafts.drop(each.fact));
    if (each.origin) rememberOrigin(each.fact, each.origin);
    usedEvidence(each.fact, each.evidence);
  }
  last = entries;
  if (!undo) return;
  undo.hidden = undone;
  delete undo.elements.undo.dataset.undo;
  undo.elements.fact.value = entries[0].fact;
}

async function takeLastBack(form, button) {
  const list = button.dataset.undo ? JSON.parse(button.dataset.undo).map((each) => ({ ...about(each.fact), ...each })) : [];
  for (const each of button.dataset.undo ? [] : last.toReversed()) {
    if (!(await takeBack(each.id))) list.push(...undoing(each));
  }
  if (list.length) return gave(form, list, form.elements.page.value, true);
  undo.hidden = true;
  say(told.takenBack);
  return send(true);
}

// What people do

let waiting = 0;
let here = null; // the card or row where somebody was last

document.addEventListener("submit", (event) => {
  if (!event.target.matches("form[data-say], form.add")) return;
  event.preventDefault();
  submit(event.target, event.submitter);
});
document.addEventListener("toggle", (event) => {
  if (event.target.matches?.("details[data-fetch]")) fetched(event.target).then((came) => { if (came) lay(); });
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
document.querySelector("#full button").addEventListener("click", () => saveAll(unkept));
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

const lay = overlay(told, {
  sent: drawAnew,
  again: (card, entry) => wrong(card.querySelector("form[data-fact]"), filled(told.refused, { why: entry.why })),
});

const fresh = document.getElementById("here-new");
if (fresh) showNew(fresh);
prepare(document);
lay();
