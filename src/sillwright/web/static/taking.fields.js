// Fields of facts: what each piece of a page needs, what is typed and not kept yet, and how it reads.
import { mode, withMetres } from "./keys.js";
import { send } from "./net.js";
import { drafts } from "./offline/drafts.js";

export const told = document.getElementById("told").dataset;
export const drafted = drafts(`${told.who} ${told.about}`);
const status = document.getElementById("status");
const originOf = (fact) => `origin ${told.who} ${told.about} ${fact}`;
const evidenceOf = (fact) => `evidence ${told.who} ${told.about} ${fact}`;
const factOf = (element) => element.closest("[data-fact]")?.dataset.fact ?? "";
export const say = (words) => { status.textContent = words; };
export const rememberOrigin = (fact, origin) => localStorage.setItem(originOf(fact), origin);

// What the next value of a fact is shown by, on every form of it; nothing where it is empty.
export function nameEvidence(fact, words) {
  if (words) localStorage.setItem(evidenceOf(fact), words);
  else localStorage.removeItem(evidenceOf(fact));
  for (const form of document.querySelectorAll(`form[data-fact="${CSS.escape(fact)}"]`)) fillEvidence(form, true);
}

// It went with a value.
export function usedEvidence(fact, words) {
  if (words && localStorage.getItem(evidenceOf(fact)) === words) nameEvidence(fact, "");
}

function fillEvidence(form, anew = false) {
  const words = localStorage.getItem(evidenceOf(form.dataset.fact)) ?? "";
  const field = form.elements.evidence;
  if (field && (anew || (words && !field.value))) field.value = words;
  const line = form.closest("[data-fact]:not(form)")?.querySelector("[data-shown]");
  if (line) line.hidden = !words;
}

function today() {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
}

// What a new piece of the page needs: the device's own day, the origin used last, what was typed and not kept.
export function prepare(piece) {
  for (const input of piece.querySelectorAll("input[data-today]")) input.value = today();
  for (const input of piece.querySelectorAll("[data-entry=quantity]")) {
    const below = [...input.closest(".field").querySelectorAll("[data-unit]")].some((key) => key.dataset.unit.includes("°"));
    if (!below) input.inputMode = "decimal"; // the unit has its keys; degrees need a minus sign
  }
  for (const form of piece.querySelectorAll("form[data-fact]")) {
    const origin = localStorage.getItem(originOf(form.dataset.fact));
    const chip = origin && [...form.querySelectorAll("[name=origin]")].find((each) => each.value === origin);
    if (chip) chip.checked = true;
    fillEvidence(form);
  }
  drafted.then((kept) => { for (const form of piece.querySelectorAll("form[data-fact]")) restore(form, kept.get(form.dataset.fact)); });
}

function restore(form, draft) {
  if (!draft || !form.isConnected || fields(form).some((field) => field.value)) return;
  for (const field of fields(form)) field.value = draft[field.name] ?? "";
  wrong(form, told.draft);
}

const fields = (form) => [...form.querySelectorAll("input[name=typed], textarea[name=typed], .date input, .date select")];

export function wrong(form, words) {
  const line = form?.querySelector("[data-wrong]");
  if (!line) return say(words);
  line.hidden = !words;
  line.textContent = words;
}

export function keepDraft(field) {
  const form = field.form;
  if (!form?.dataset.fact || !fields(form).includes(field)) return;
  const typed = Object.fromEntries(fields(form).filter((each) => each.value).map((each) => [each.name, each.value]));
  drafted.then((kept) => (Object.keys(typed).length ? kept.keep(form.dataset.fact, typed) : kept.drop(form.dataset.fact)));
}

// What is typed, in both systems of units, or what is wrong with it. A bare number reads as it will be kept.
export async function readBack(input, units = "") {
  const line = input.closest(".field")?.querySelector(".readback");
  if (!line) return;
  const typed = input.value;
  const show = (words, kind = "") => { line.textContent = words; line.className = `readback scripted ${kind}`; };
  if (!typed.trim()) return show("");
  const fact = factOf(input) || input.id.replace(/^v-/, "");
  const metres = input.dataset.entry === "length" && mode(told) === "metric";
  const found = await send(told.read, { fact, typed: metres ? withMetres(typed) : typed }).catch(() => null);
  if (!found?.body || input.value !== typed) return;
  const { words_us: us, words_metric: metric, mistake, doubtful } = found.body;
  if (units && found.body[units]) {
    input.value = found.body[units];
    keepDraft(input);
  }
  if (mistake) show(mistake, "is-wrong");
  else if (doubtful) show(doubtful, "is-doubtful");
  else show(us === metric ? us : told.units === "us" ? `${us} = ${metric}` : `${metric} = ${us}`);
}
