// A signature drawn on the screen: strokes of points, kept as numbers. Without this script it is written.
const field = document.querySelector("[data-signature]");
const canvas = field.querySelector("canvas");
const told = field.querySelector("input");
const ink = canvas.getContext("2d");
const MOST = 3900; // points; the server takes a few more
let strokes = [];
let under = null; // the pointer that draws

function point(event) {
  const box = canvas.getBoundingClientRect();
  const within = (value, most) => Math.min(most, Math.max(0, Math.round(value)));
  return [
    within(((event.clientX - box.left) / box.width) * canvas.width, canvas.width),
    within(((event.clientY - box.top) / box.height) * canvas.height, canvas.height),
  ];
}

function draw() {
  ink.clearRect(0, 0, canvas.width, canvas.height);
  Object.assign(ink, { lineWidth: 8, lineCap: "round", lineJoin: "round", strokeStyle: "#14181c" });
  for (const [first, ...rest] of strokes) {
    ink.beginPath();
    ink.moveTo(...first);
    for (const each of rest.length ? rest : [first]) ink.lineTo(...each);
    ink.stroke();
  }
}

function keep() {
  told.value = strokes.length ? JSON.stringify(strokes) : "";
}

canvas.addEventListener("pointerdown", (event) => {
  if (under !== null || strokes.length >= 60) return;
  event.preventDefault();
  under = event.pointerId;
  canvas.setPointerCapture(under);
  strokes.push([point(event)]);
  draw();
});
canvas.addEventListener("pointermove", (event) => {
  if (event.pointerId !== under) return;
  const stroke = strokes.at(-1);
  const [x, y] = point(event);
  const [lastX, lastY] = stroke.at(-1);
  const enough = Math.hypot(x - lastX, y - lastY) >= 4;
  if (!enough || strokes.reduce((sum, each) => sum + each.length, 0) >= MOST) return;
  stroke.push([x, y]);
  draw();
});
for (const name of ["pointerup", "pointercancel"]) {
  canvas.addEventListener(name, (event) => {
    if (event.pointerId !== under) return;
    under = null;
    keep();
  });
}
field.querySelector("[data-clear]").addEventListener("click", () => {
  strokes = [];
  draw();
  keep();
});

try {
  strokes = told.value ? JSON.parse(told.value) : [];
} catch {
  strokes = [];
}
field.hidden = false;
draw();
