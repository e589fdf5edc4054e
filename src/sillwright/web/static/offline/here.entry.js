// One line of the page "On this phone": an entry in words, and what can be done about it.
import { link } from "./file.js";
import { correct, tell } from "./outbox.js";
import { bytesOf, sendAgain } from "./photos.js";
import { send } from "./sync.js";
import { takeBack } from "./undo.js";
import { filled, moment } from "./words.js";

// What an entry says: of what, and which value.
export function inWords(entry, words) {
  if (entry.kind === "photo") return [words.photo, entry.words || entry.shot || entry.fact || ""];
  if (entry.kind === "opening") return [words.opening, entry.tag];
  if (entry.kind === "move") return [words.move, entry.shown];
  if (entry.kind === "observation") {
    const plain = { unknown: words.unknown, none: words.none, removed: words.removed }[entry.says];
    return [entry.title ?? entry.fact, plain || entry.shown || entry.typed];
  }
  const about = { about: entry.title ?? entry.about ?? entry.fact ?? "" };
  const title = entry.kind === "question" ? words.question : words[entry.says] ?? words.remark;
  return [filled(title, about), entry.words ?? ""];
}

// Which of its fields holds what was typed, where it can be corrected here.
const FIELD = { observation: "typed", opening: "tag", remark: "words", question: "words" };

// The row of an entry, ready to be pressed.
export function answered(row, entry, page) {
  const { words } = page;
  const [title, value] = inWords(entry, words);
  const put = (part, text) => { row.querySelector(part).textContent = text; };
  put("[data-title]", title);
  put("[data-value]", value || entry.typed || "");
  put("[data-when]", filled(words.written, { time: moment(entry.at ?? entry.taken) }));
  tellState(row, entry, page);
  if (entry.kind === "photo") photo(row, entry, page);
  if (entry.state === "refused" && FIELD[entry.kind]) correcting(row, entry, page, title);
  row.querySelector("[data-copy]").addEventListener("click", () => copied(`${title}: ${value || entry.typed}`, page));
  const back = row.querySelector("[data-back]");
  if (entry.kind === "photo" && entry.state !== "refused") back.remove();
  else if ((entry.kind === "opening" && entry.tries && entry.state !== "refused")) back.remove();
  else back.addEventListener("click", async () => page.tookBack(await takeBack(entry.id), `${title}, ${value || entry.typed}`));
  return row;
}

function tellState(row, entry, { words, lost }) {
  const [wrong, waits] = [row.querySelector("[data-why]"), row.querySelector("[data-waits]")];
  const why = entry.lost ? words.lost : entry.why ?? "";
  wrong.textContent = entry.state === "refused" ? filled(words.refused, { why }) : "";
  wrong.hidden = !wrong.textContent;
  const hangs = lost && entry.kind !== "opening" ? words.hangs : "";
  const later = entry.later ? filled(words.later, { why: entry.later }) : entry.tries ? words.tried : "";
  waits.textContent = entry.state === "refused" ? "" : hangs || later;
  waits.hidden = !waits.textContent;
}

function correcting(row, entry, { words, say, draw }, title) {
  const form = row.querySelector("form");
  const field = form.elements.typed;
  const name = FIELD[entry.kind];
  form.querySelector("[data-label]").textContent = title;
  field.defaultValue = entry[name] ?? "";
  form.hidden = false;
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const text = field.value.trim();
    if (!text) { field.ariaInvalid = "true"; return say(words.empty); }
    const value = entry.kind === "observation" ? { says: "value", typed: text, shown: "" } : { [name]: text };
    await correct(entry.id, value);
    form.remove();
    say(words.corrected);
    await draw();
    return send(true);
  });
}

// The photo itself: as a file at any time, sent again where it was refused. One whose bytes are gone says so.
function photo(row, entry, { words, say, draw }) {
  const [again, file] = [row.querySelector("[data-again]"), row.querySelector("[data-file]")];
  again.hidden = entry.state !== "refused" || Boolean(entry.lost);
  file.hidden = Boolean(entry.lost);
  again.addEventListener("click", async () => {
    await sendAgain(entry.id);
    tell();
    say(words.again);
    await draw();
    return send(true);
  });
  file.addEventListener("click", async () => {
    const bytes = await bytesOf(entry.id);
    if (!bytes) return say(words.lost);
    const name = `${(entry.taken ?? entry.at).slice(0, 19).replace(/\D/g, "-")}.${entry.media.split("/")[1].replace("jpeg", "jpg")}`;
    return link({ name, blob: new Blob([bytes], { type: entry.media }) }).click();
  });
}

async function copied(text, { words, say }) {
  try {
    await navigator.clipboard.writeText(text);
    say(words.copied);
  } catch {
    say(words.uncopied);
  }
}
