// The coiled cord between a leaf and the box on the wall, a reel or radio in its place. The twin of takeoff/_cord.py and
// takeoff/way.py without a catalogue: the cords and reels are those that the trade sells, with conductors enough for any
// edge.
import { valuesOf } from "./told.js";

// Which cord reaches from the box to the lead over the whole travel; lengths in metres. Without a height of the box it
// is put where it is best.
export function cordOf({ cord, round_off: off }, { highest, offset, box_height: box = null }) {
  const best = highest / 2;
  const height = box ?? best;
  const longest = Math.hypot(Math.max(highest - height, height), offset);
  const retracted = cord.retracted.find((each) => longest <= cord.most_ratio * each + off) ?? null;
  const needed = highest + offset + cord.stays_wound;
  const cable = cord.cables.find((each) => each >= needed - off) ?? null;
  return {
    kind: retracted !== null ? "cord" : cable === null ? "radio" : "reel",
    retracted,
    longest,
    ratio: retracted === null ? null : longest / retracted,
    box_height: best,
    highest,
    cable,
  };
}

const NOTHING = { retracted: null, longest: null, ratio: null, box_height: null };

// The way to the operator, for the worst of what is known: {kind, retracted, longest, ratio, box_height}. The cord is
// the one that would do, also where a reel is preferred.
export function wayOf(table, site, opening) {
  const door = opening.get("door");
  const kind = door.get("kind").value;
  if (table.gates.includes(kind)) return { kind: "radio", ...NOTHING };
  if (kind === null || kind === "high_speed") return { kind: "unknown", ...NOTHING };
  const heights = valuesOf(door.get("clear_height"));
  if (!heights.length) return { kind: "unknown", ...NOTHING };
  return beside(table, site, opening, heights);
}

// A leaf that goes up, with a wall beside it.
function beside(table, site, opening, heights) {
  const box = opening.get("box");
  const [offsets, boxes] = [valuesOf(box.get("offset")), valuesOf(box.get("height"))];
  const found = heights.flatMap((highest) =>
    orElse(offsets, table.cord.offset).flatMap((offset) =>
      orElse(boxes, [null]).map((height) => cordOf(table, { highest, offset, box_height: height })),
    ),
  );
  const worst = found.reduce((most, each) => (each.longest > most.longest ? each : most));
  const { retracted, longest, ratio, box_height } = worst;
  const cord = hasNoWall(table, opening) ? { retracted: null, ratio: null } : { retracted, ratio };
  return { kind: choiceOf(table, site, opening, worst), ...cord, longest, box_height };
}

const orElse = (values, usual) => (values.length ? values : usual);

// The wall first, then the travel, then what fits.
function choiceOf(table, site, opening, worst) {
  const { cord, round_off: off } = table;
  if (hasNoWall(table, opening)) return "radio";
  const far = worst.highest > cord.travel + off;
  if (worst.kind === "cord" && far && worst.cable !== null && !isTooFast(table, opening)) {
    const cold = coldest(site, opening);
    return cold !== null && cold < cord.coldest ? "cord" : "reel";
  }
  return worst.kind === "reel" && isTooFast(table, opening) ? "radio" : worst.kind;
}

function hasNoWall({ cord, round_off: off }, opening) {
  const walls = ["left", "right"].map((side) => valuesOf(opening.get("free_wall").get(side)));
  return walls.every((widths) => widths.length > 0 && Math.max(...widths) < cord.free_wall[0] - off);
}

// Whether the leaf is known to open faster than any usual reel winds up.
function isTooFast({ cord, round_off: off }, opening) {
  const speeds = valuesOf(opening.get("door").get("opening_speed"));
  return speeds.length > 0 && Math.min(...speeds) > cord.rewind[1] + off;
}

// The lowest temperature at either side of the leaf, in kelvin; null where nobody took one down.
function coldest(site, opening) {
  const around = opening.get("surroundings");
  const known = [...valuesOf(site.get("coldest")), ...valuesOf(around.get("cold_side"))];
  return known.length ? Math.min(...known, ...valuesOf(around.get("warm_side"))) : null;
}
