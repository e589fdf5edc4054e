// Marks as they are drawn on a photo: light lines with a dark edge, to be seen on any ground. A mark is
// {kind, at, words}: kind ring, arrow, line, measure or words; at one or two points in shares of width and height.
const INK = "#ffe24d";
const EDGE = "#000";

export function drawMarks(pen, marks, typed) {
  const { width, height } = pen.canvas;
  const unit = Math.max(width, height) / 100;
  Object.assign(pen, { lineCap: "round", lineJoin: "round", font: `700 ${3.2 * unit}px sans-serif`, textBaseline: "bottom" });
  for (const mark of marks) {
    const points = mark.at.map(([x, y]) => [x * width, y * height]);
    if (points.length === 1 && mark.kind !== "words") dot(pen, points[0], unit);
    else SHAPES[mark.kind](pen, points, unit, mark.words, typed);
  }
}

const SHAPES = {
  ring(pen, [[x, y], [u, v]], unit) {
    stroke(pen, unit, () => pen.arc(x, y, Math.max(unit, Math.hypot(u - x, v - y)), 0, 2 * Math.PI));
  },
  line(pen, [from, to], unit) {
    stroke(pen, unit, () => { pen.moveTo(...from); pen.lineTo(...to); });
  },
  arrow(pen, [[x, y], [u, v]], unit) {
    const way = Math.atan2(v - y, u - x);
    stroke(pen, unit, () => {
      pen.moveTo(x, y);
      pen.lineTo(u, v);
      for (const side of [2.6, -2.6]) { pen.moveTo(u, v); pen.lineTo(u + 4 * unit * Math.cos(way + side), v + 4 * unit * Math.sin(way + side)); }
    });
  },
  measure(pen, [[x, y], [u, v]], unit, words, typed) {
    const across = Math.atan2(v - y, u - x) + Math.PI / 2;
    const [c, s] = [1.5 * unit * Math.cos(across), 1.5 * unit * Math.sin(across)];
    stroke(pen, unit, () => {
      pen.moveTo(x, y);
      pen.lineTo(u, v);
      for (const [a, b] of [[x, y], [u, v]]) { pen.moveTo(a - c, b - s); pen.lineTo(a + c, b + s); }
    });
    if (words) write(pen, [(x + u) / 2, (y + v) / 2 - unit], unit, [words, typed], "center");
  },
  words(pen, [point], unit, words) {
    if (words) write(pen, point, unit, [words], "start");
    else dot(pen, point, unit);
  },
};

function dot(pen, [x, y], unit) {
  stroke(pen, unit, () => pen.arc(x, y, unit / 2, 0, 2 * Math.PI));
}

function stroke(pen, unit, path) {
  for (const [style, wide] of [[EDGE, 1.1], [INK, 0.6]]) {
    pen.beginPath();
    path();
    Object.assign(pen, { strokeStyle: style, lineWidth: wide * unit });
    pen.stroke();
  }
}

// Lines of words, the first large, moved as far as it takes to stand on the photo as a whole.
function write(pen, [x, y], unit, lines, align) {
  const sizes = lines.map((_line, index) => (index ? 2 : 3.2) * unit);
  const fonts = sizes.map((size) => `700 ${size}px sans-serif`);
  const wide = Math.max(...lines.map((line, index) => { pen.font = fonts[index]; return pen.measureText(line).width; }));
  const high = sizes.reduce((sum, size) => sum + 1.15 * size, 0);
  const left = Math.max(unit, Math.min(align === "center" ? x - wide / 2 : x, pen.canvas.width - wide - unit));
  let bottom = Math.max(unit, Math.min(y - high, pen.canvas.height - high - unit));
  lines.forEach((line, index) => {
    bottom += 1.15 * sizes[index];
    Object.assign(pen, { font: fonts[index], textAlign: "start", strokeStyle: EDGE, lineWidth: 0.6 * unit, fillStyle: INK });
    pen.strokeText(line, left, bottom);
    pen.fillText(line, left, bottom);
  });
}

// Where the keyboard would tap.
export function drawCross(pen, [x, y]) {
  const { width, height } = pen.canvas;
  const unit = Math.max(width, height) / 100;
  stroke(pen, unit, () => {
    pen.moveTo(x * width - 3 * unit, y * height);
    pen.lineTo(x * width + 3 * unit, y * height);
    pen.moveTo(x * width, y * height - 3 * unit);
    pen.lineTo(x * width, y * height + 3 * unit);
  });
}
