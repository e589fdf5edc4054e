// The pin of a photo on the drawing: one tap puts it, arrow keys move it, the last step can be undone.
import { send } from "./net.js";

const STEP = 0.01; // of the frame
const photo = document.querySelector("#photo").dataset;
const board = document.querySelector("#pins");
const said = document.querySelector("[data-pin-said]");
const undo = document.querySelector("[data-undo]");

if (board) {
  const drawing = board.querySelector("svg");
  const [left, top, width, height] = board.dataset.frame.split(" ").map(Number);
  const shares = (point) => ({ x: within((point.x - left) / width), y: within((point.y - top) / height) });
  const within = (share) => Math.min(1, Math.max(0, Math.round(share * 1e5) / 1e5));
  const pinNow = () => drawing.querySelector(`[data-pin="${photo.photo}"]`);
  const nothing = { x: null, y: null };
  let kept = photo.x ? { x: Number(photo.x), y: Number(photo.y) } : nothing;
  let before = null;
  const drawn = pinNow()?.querySelector("circle");
  const first = drawn ? shares({ x: Number(drawn.getAttribute("cx")), y: Number(drawn.getAttribute("cy")) }) : nothing;
  let shown = first; // at the place of its shot, where nobody has put it

  function show(wanted) {
    const at = wanted.x === null && !photo.x ? first : wanted;
    shown = at;
    pinNow()?.remove();
    if (at.x === null) return;
    const [x, y] = [left + at.x * width, top + at.y * height];
    const pin = drawing.appendChild(made("g", { class: "pin", "data-pin": photo.photo }));
    pin.append(
      made("circle", { cx: x, cy: y, r: 3.4, fill: "#000", stroke: "#fff", "stroke-width": 0.6 }),
      made("text", { x, y: y + 1.3, "font-size": 3.8, "font-weight": 700, fill: "#fff", stroke: "none", "text-anchor": "middle" }, photo.number),
    );
  }

  async function keep(at, words) {
    const previous = kept;
    show(at);
    const answer = await send(photo.api, at, "PATCH").catch(() => ({ ok: false }));
    if (!answer.ok) {
      said.textContent = answer.body?.detail ?? said.dataset.failed;
      show(kept);
      return;
    }
    [kept, before] = [at, previous];
    undo.hidden = words === said.dataset.back;
    said.textContent = words;
  }

  board.addEventListener("click", (event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(drawing.getScreenCTM().inverse());
    keep(shares(point), said.dataset.kept);
  });
  const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  board.addEventListener("keydown", (event) => {
    const way = WAYS[event.key];
    if (way) {
      const [x, y] = [shown.x ?? 0.5, shown.y ?? 0.5];
      show({ x: within(x + STEP * way[0]), y: within(y + STEP * way[1]) });
      said.textContent = said.dataset.moved;
    } else if (event.key === "Enter" && shown.x !== null) keep(shown, said.dataset.kept);
    else return;
    event.preventDefault();
  });
  undo.addEventListener("click", () => keep(before, said.dataset.back));
}

function made(name, marks, words = "") {
  const shape = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [mark, value] of Object.entries(marks)) shape.setAttribute(mark, value);
  shape.textContent = words;
  return shape;
}
