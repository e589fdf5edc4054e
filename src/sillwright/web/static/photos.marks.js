// Marks on a copy of a photo, placed by taps. The photo itself is never changed: the copy is made on this device from
// its pixels and the marks, and goes the same way as a photo.
import { canvasOf, jpegOf, keep } from "./offline/shrink.js";
import { drawCross, drawMarks } from "./photos.draw.js";
import { unkept } from "./photos.words.js";

const LONGEST = 2048; // px
const photo = document.querySelector("#photo").dataset;
const opener = document.querySelector("#mark");
const section = document.querySelector("#marks");
const words = section.dataset;
const find = (selector) => section.querySelector(selector);
const [said, wrong, board, canvas] = ["[data-said]", ".wrong", ".board", "canvas"].map(find);
const tools = [...section.querySelectorAll("[data-tool]")];
const ONE_TAP = ["words"];
const marks = [];
let image = null;
let tool = null;
let cross = null;

opener.hidden = false;
opener.addEventListener("click", async () => {
  section.hidden = !section.hidden;
  opener.setAttribute("aria-expanded", String(!section.hidden));
  document.querySelector(".whole-photo").hidden = !section.hidden; // one of them is enough to scroll past
  if (section.hidden) return;
  find("h2").focus();
  if (!image) await load();
});

async function load() {
  const found = Object.assign(new Image(), { src: words.image });
  try { await found.decode(); } catch { refuse(words.unread); return; }
  const scale = Math.min(1, LONGEST / Math.max(found.naturalWidth, found.naturalHeight));
  canvas.width = Math.round(found.naturalWidth * scale);
  canvas.height = Math.round(found.naturalHeight * scale);
  image = found;
  draw();
}

function paint(on, more = () => {}) {
  const pen = on.getContext("2d");
  pen.drawImage(image, 0, 0, on.width, on.height);
  drawMarks(pen, marks, words.typed);
  more(pen);
}

function draw() {
  if (!image) return;
  paint(canvas, (pen) => { if (cross) drawCross(pen, cross); });
  find("[data-list]").replaceChildren(...marks.map((mark) => {
    const item = document.createElement("li");
    item.textContent = [nameOf(mark.kind), mark.words].filter(Boolean).join(": ");
    return item;
  }));
}

const nameOf = (kind) => tools.find((each) => each.dataset.tool === kind).textContent;
const unfinished = () => marks.find((mark) => mark.at.length === 1 && !ONE_TAP.includes(mark.kind));

function refuse(sentence) {
  wrong.textContent = sentence;
  wrong.hidden = !sentence;
}

// tools and their words

for (const each of tools) each.addEventListener("click", () => choose(each));

function choose(each) {
  if (unfinished()) marks.pop();
  tool = each;
  for (const other of tools) other.setAttribute("aria-pressed", String(other === each));
  for (const field of section.querySelectorAll("[data-field]")) field.hidden = field.dataset.field !== each.dataset.tool;
  const input = inputOf(each.dataset.tool);
  if (input) input.value = "";
  said.textContent = each.dataset.first;
  refuse("");
  draw();
}

const inputOf = (kind) => find(`[data-field="${kind}"] input`);

for (const field of section.querySelectorAll("[data-field]")) {
  field.addEventListener("input", () => {
    const last = marks.at(-1);
    if (last?.kind === field.dataset.field) last.words = inputOf(last.kind).value.trim();
    draw();
  });
}

// taps

board.addEventListener("click", (event) => {
  const box = canvas.getBoundingClientRect();
  cross = null;
  tap([(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height]);
});

const rounded = (share) => Math.min(1, Math.max(0, Math.round(share * 1e4) / 1e4));

function tap(point) {
  if (!image) return;
  refuse("");
  if (!tool) { refuse(words.none); return; }
  const { tool: kind, first, then } = tool.dataset;
  const at = point.map(rounded);
  const open = unfinished();
  if (open) open.at.push(at);
  else begin(kind, at);
  said.textContent = unfinished() ? then : first;
  draw();
}

// Words go to the mark that they were typed for: those of a new one are typed anew.
function begin(kind, at) {
  const input = inputOf(kind);
  if (input && marks.at(-1)?.kind === kind && marks.at(-1).words) input.value = "";
  marks.push({ kind, at: [at], ...(input ? { words: input.value.trim() } : {}) });
}

const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
board.addEventListener("keydown", (event) => {
  const way = WAYS[event.key];
  if (way) {
    const step = event.shiftKey ? 0.005 : 0.03;
    cross = cross ? cross.map((share, axis) => rounded(share + step * way[axis])) : [0.5, 0.5];
    const [x, y] = cross.map((share) => Math.round(100 * share));
    said.textContent = words.at.replace("{x}", x).replace("{y}", y);
    draw();
  } else if (event.key === "Enter" && cross) tap(cross);
  else return;
  event.preventDefault();
});

find("[data-last]").addEventListener("click", () => {
  if (!marks.length) return;
  marks.pop();
  said.textContent = words.undone;
  draw();
});

// keeping

const UNIT = /\d\s*(ft|in|mm|cm|m|['"′″’”])/i;

function mistake() {
  if (unfinished()) marks.pop();
  if (!marks.length) return [words.none, null];
  const wanting = marks.find((mark) => (mark.kind === "measure" && !UNIT.test(mark.words)) || (mark.kind === "words" && !mark.words));
  return wanting ? [wanting.kind === "measure" ? words.unit : words.unsaid, wanting.kind] : ["", null];
}

find("[data-save]").addEventListener("click", async (event) => {
  const [sentence, kind] = mistake();
  for (const each of ["measure", "words"]) inputOf(each).setAttribute("aria-invalid", String(each === kind));
  refuse(sentence);
  if (sentence) { inputOf(kind)?.focus(); return; }
  event.target.disabled = true;
  said.textContent = words.working;
  try {
    const copy = canvasOf(canvas.width, canvas.height);
    paint(copy);
    const { site, opening, shot, fact, place } = photo;
    await keep(jpegOf(copy), "image/jpeg", { site, opening, shot, fact, place, copy_of: photo.photo, marks: marks.map(asSent) });
    marks.length = 0;
    draw();
    told();
  } catch (error) {
    said.textContent = "";
    unkept(error, wrong);
  } finally {
    event.target.disabled = false;
  }
});

// As the server takes it: always two points, and what was typed of a length under a name of its own.
function asSent({ kind, at, words: typed = "" }) {
  const [[x1, y1], [x2, y2] = [x1, y1]] = at;
  return { kind, x1, y1, x2, y2, ...(typed ? { [kind === "measure" ? "typed" : "words"]: typed } : {}) };
}

function told() {
  const link = Object.assign(document.createElement("a"), { href: words.photos, className: "button", textContent: document.querySelector(".trail a:last-child").textContent });
  said.replaceChildren(words.kept, " ", link);
}
