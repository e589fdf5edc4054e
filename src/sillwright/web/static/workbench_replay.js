// Plays a contact: a point along its curves, and leaf, edge and obstruction from the side. Starts when it is asked to.
const SLOWER = 10;
const STEP = 0.01; // seconds of the contact
const SVG = "http://www.w3.org/2000/svg";

// The moment at a time, between two that are known.
export function momentAt(frames, time) {
  let low = 0;
  let high = frames.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (frames[middle][0] <= time) low = middle; else high = middle;
  }
  const wide = frames[high][0] - frames[low][0];
  const share = wide > 0 ? Math.min(1, Math.max(0, (time - frames[low][0]) / wide)) : 0;
  const between = (column) => frames[low][column] + share * (frames[high][column] - frames[low][column]);
  return { time, force: between(1), place: between(2), gives: between(3) };
}

function pointer(chart) {
  const [left, wide, bottom, high] = chart.dataset.places.split(" ").map(Number);
  const dot = document.createElementNS(SVG, "circle");
  dot.setAttribute("r", "2");
  dot.setAttribute("class", "moment");
  chart.querySelector("svg").append(dot);
  return ({ time, force, place }) => {
    const across = chart.dataset.over === "time" ? time : Math.max(0, place);
    dot.setAttribute("cx", left + wide * across);
    dot.setAttribute("cy", bottom - high * force);
  };
}

function mover(side, perMetre) {
  const parts = Object.fromEntries(["leaf", "edge", "obstruction"].map((name) => {
    const group = side.querySelector(`[data-place="${name}"]`);
    return [name, group && { group, box: group.getBBox() }];
  }));
  const squeeze = (part, by, fixed, shift) => {
    const share = Math.max(0.08, 1 - by / part.box.height);
    part.group.setAttribute("transform", `matrix(1 0 0 ${share} 0 ${fixed * (1 - share) + shift})`);
  };
  return ({ force, place, gives }) => {
    const down = place * perMetre;
    const pressed = force > 0 ? Math.max(0, place - gives) * perMetre : 0;
    parts.leaf.group.setAttribute("transform", `translate(0 ${down})`);
    if (parts.edge) squeeze(parts.edge, pressed, parts.edge.box.y, down);
    if (parts.obstruction) {
      const { box } = parts.obstruction;
      squeeze(parts.obstruction, gives * perMetre, box.y + box.height, 0);
    }
  };
}

function reader(root) {
  const { travelUnit, travelFactor, pound } = root.dataset;
  const say = (digits) => new Intl.NumberFormat(document.documentElement.lang, { minimumFractionDigits: digits, maximumFractionDigits: digits });
  const [whole, tenth, fine, thousandth] = [0, 1, 2, 3].map(say);
  const place = (name) => root.querySelector(`[data-read="${name}"]`);
  const [time, force, leaf] = ["time", "force", "place"].map(place);
  const length = travelUnit === "in" ? fine : tenth;
  return (at, moment) => {
    time.textContent = `${thousandth.format(at)} s`;
    const pounds = pound ? ` (${whole.format(moment.force / 4.4482216152605)} ${pound})` : "";
    force.textContent = `${whole.format(moment.force)} N${pounds}`;
    leaf.textContent = `${length.format(moment.place * Number(travelFactor))} ${travelUnit}`;
  };
}

let running = 0; // the frame that is asked for next; one replay at a time

export function startReplay(root) {
  cancelAnimationFrame(running);
  running = 0;
  const frames = JSON.parse(root.dataset.frames);
  const end = frames[frames.length - 1][0];
  const draw = [...root.querySelectorAll("[data-places]")].map(pointer);
  draw.push(mover(root.querySelector(".side"), Number(root.dataset.perMetre)));
  const read = reader(root);
  const button = root.querySelector('[data-do="play"]');
  let at = 0;
  const show = (time) => {
    at = Math.min(end, Math.max(0, time));
    const moment = momentAt(frames, at);
    draw.forEach((each) => each(moment));
    read(at, moment);
  };
  const pause = () => {
    cancelAnimationFrame(running);
    running = 0;
    button.textContent = root.dataset.play;
  };
  const play = () => {
    if (at >= end) show(0);
    button.textContent = root.dataset.pause;
    let before = null;
    const next = (now) => {
      if (before !== null) show(at + (now - before) / 1000 / SLOWER);
      before = now;
      if (at >= end) pause(); else running = requestAnimationFrame(next);
    };
    running = requestAnimationFrame(next);
  };
  const deeds = {
    play: () => (running ? pause() : play()),
    on: () => { pause(); show(at + STEP); },
    back: () => { pause(); show(at - STEP); },
    start: () => { pause(); show(0); },
  };
  root.querySelector(".controls").addEventListener("click", (event) => deeds[event.target.closest("[data-do]")?.dataset.do]?.());
  root.querySelectorAll(".controls, .readout").forEach((each) => { each.hidden = false; });
  show(0);
}
