// How long the bodies of an edge are, by kind of leaf. The twin of takeoff/_length.py and takeoff/rules_of_length.py:
// what is said beside the lengths is left out.
import { above, down } from "./tape.js";

// The bodies of a leaf as it was measured, the most important one first. "told" holds the kind and lengths in metres by
// the names of LengthCase; what is not there, or null, was not measured. Without a data sheet "dead_end" is not known.
export function edgesOf(table, told) {
  const one = (name) => told[name] ?? null;
  return RULES[told.kind](table, one).map((cut) => finished(table, positive(table, { ...PLAIN, ...cut }), one));
}

const PLAIN = { body: null, channel: null, count: 1, informs_only: false, across: true, missing: [] };

// A body of no length is none.
function positive(table, cut) {
  if (cut.body === null || above(table, Math.min(cut.body, cut.channel ?? cut.body), 0)) return cut;
  const { place, rule, across } = cut;
  return { ...PLAIN, place, rule, across };
}

function finished(table, cut, one) {
  const { place, rule, body, count, informs_only, missing } = cut;
  const dead = one("dead_end") ?? table.lengths["dead-end-unknown"];
  const gap = table.lengths["joint-gap"];
  const limit = table.lengths["piece-coiled"];
  const pieces = body === null ? 1 : Math.max(1, Math.ceil((body - table.round_off) / limit));
  const piece = body === null ? null : down(table, (body - (pieces - 1) * gap) / pieces);
  const laid = cut.across && body !== null ? pieces * piece + (pieces - 1) * gap : null;
  const strip = deadStrip(daylight(table, one), laid, dead);
  return {
    place,
    rule,
    body,
    sensing: piece === null ? null : pieces * Math.max(0, piece - dead - dead),
    channel: cut.channel ?? body,
    pieces,
    piece,
    dead_left: strip,
    dead_right: strip,
    informs_only,
    count,
    missing,
  };
}

// The strip at each side of the opening that does not answer; the body lies in the middle.
function deadStrip(width, laid, dead) {
  return width === null || laid === null ? null : Math.max(0, dead + (width - laid) / 2);
}

const HEIGHTS = ["guide_clear_floor", "guide_clear_chest", "guide_clear_head"];

// The clear between the guides at the heights at which it was measured.
const heights = (one) => HEIGHTS.map(one).filter((each) => each !== null);

// How wide light comes through: the opening, or the guides where they stand in it, at their widest.
function daylight(table, one) {
  const width = one("clear_width");
  const clear = table.facts.guided.includes(one("kind")) ? heights(one) : [];
  return width === null || !clear.length ? width : Math.min(width, Math.max(...clear));
}

function sectional(table, one) {
  const cut = { place: "bottom", rule: "LEN-1" };
  const panel = one("panel_width");
  if (panel === null) return [{ ...cut, missing: ["panel_width"] }];
  const brackets = (one("bracket_left") ?? 0) + (one("bracket_right") ?? 0);
  return [{ ...cut, body: down(table, panel), channel: down(table, panel - brackets) }];
}

// Clearance on each side of a leaf between guides: by their clear, and by how they are.
function clearance(table, clear, condition) {
  const { lengths, up_to: upTo, round_off: off } = table;
  const least = Math.min(...clear);
  const size = ["clearance-small", "clearance-medium"].find((name) => least <= upTo[name] + off) ?? "clearance-large";
  const differ = clear.length > 1 && above(table, Math.max(...clear) - least, lengths["guides-differ"]);
  const straight = condition === "looked_at" || (condition === "not_looked_at" && clear.length === HEIGHTS.length);
  return straight && !differ ? lengths[size] : lengths[size] + lengths["clearance-more"];
}

function betweenGuides(table, one, rule = "LEN-4", informs_only = false) {
  const cut = { place: "bottom", rule, informs_only };
  const clear = heights(one);
  if (!clear.length) return [{ ...cut, missing: ["guide_clear_floor"] }];
  const room = Math.min(...clear) - 2 * clearance(table, clear, one("guide_condition") ?? "not_looked_at");
  return [{ ...cut, body: down(table, Math.min(room, one("seat_length") ?? room)) }];
}

const fire = (table, one) => betweenGuides(table, one, "LEN-6", true);

// A fabric door's edge is ordered by serial number.
const fabric = () => [{ place: "bottom", rule: "LEN-7", missing: ["serial"] }];

function onePiece(table, one) {
  const cut = { place: "bottom", rule: "LEN-8" };
  const [leaf, opening] = [one("leaf_width"), one("clear_width")];
  const meets = one("meets") ?? meetsByWidth(table, leaf, opening);
  if (meets === null) {
    return [{ ...cut, missing: ["meets", "leaf_width", "clear_width"].filter((name) => one(name) === null) }];
  }
  const [name, each] = meets === "overlaps" ? ["leaf_width", 0] : ["clear_width", table.lengths["between-jambs"]];
  if (one(name) === null) return [{ ...cut, missing: [name] }];
  let room = one(name) - 2 * each;
  if (leaf !== null && leaf < room - table.round_off) room = leaf;
  return [{ ...cut, body: down(table, room), missing: one("meets") === null ? ["meets"] : [] }];
}

// What the widths say of how a one-piece leaf closes; nothing where they are equal.
function meetsByWidth(table, leaf, opening) {
  if (leaf === null || opening === null) return null;
  if (above(table, leaf, opening)) return "overlaps";
  return above(table, opening, leaf) ? "between_jambs" : null;
}

function upright(table, place, rule, starts, ends, count) {
  const body = down(table, Math.min(ends, table.lengths["gate-reach"]) - starts);
  return { place, rule, body, count, across: false };
}

// The top of a gate's leaf above grade: as measured, else its height on the gap below it.
function topOf(one) {
  const [tall, gap] = [one("leaf_height"), one("underside")];
  return one("leaf_top") ?? (tall === null || gap === null ? null : gap + tall);
}

function slide(table, one) {
  const [top, gap, posts] = [topOf(one), one("underside"), one("post_count")];
  const cuts = [];
  for (const [place, rule] of Object.entries(table.edges)) {
    const count = place === "leading" ? 1 : tails(table, one("tail_gap"));
    if (count === 0) continue;
    if (gap === null || top === null) {
      cuts.push({ place, rule, count, across: false, missing: [gap === null ? "underside" : "leaf_top"] });
      continue;
    }
    const starts = Math.max(gap + table.lengths["above-underside"], table.lengths["above-grade"]);
    cuts.push(upright(table, place, rule, starts, top, count));
  }
  if (posts === 0) return cuts;
  const [place, rule, faces] = ["post", "LEN-10", posts === null ? null : 2 * posts];
  if (top === null) return [...cuts, { place, rule, count: faces, across: false, missing: ["leaf_top"] }];
  return [...cuts, upright(table, place, rule, table.lengths["above-grade"], top, faces)];
}

const tails = (table, gap) => (gap === null ? null : above(table, gap, table.lengths["gate-near"]) ? 0 : 1);

function swing(table, one) {
  const { lengths } = table;
  const [closed, long] = [one("underside"), one("leaf_length")];
  const inside = [closed, one("underside_open")].map((gap) => inZone(table, gap));
  const cut = { place: "underside", rule: "LEN-13", across: false };
  if (inside.includes(true)) {
    if (long === null) return [tip(table, one), { ...cut, missing: ["leaf_length"] }];
    return [tip(table, one), { ...cut, body: down(table, long - lengths["hinge-short"] - lengths["tip-short"]) }];
  }
  if (!inside.includes(null)) return [tip(table, one)];
  return [tip(table, one), { ...cut, count: null, missing: [closed === null ? "underside" : "underside_open"] }];
}

function inZone(table, gap) {
  const name = "ul325-gate-underside";
  return gap === null ? null : above(table, gap, table.lengths[name]) && above(table, table.up_to[name], gap);
}

function tip(table, one) {
  const [tall, gap] = [one("leaf_height"), one("underside") ?? table.usual_gap];
  if (tall === null) return { place: "tip", rule: "LEN-12", across: false, missing: ["leaf_height"] };
  const half = table.lengths["tip-short"] / 2;
  const cut = upright(table, "tip", "LEN-12", gap + half, gap + tall - half, 1);
  return one("underside") === null ? { ...cut, missing: ["underside"] } : cut;
}

const RULES = {
  sectional,
  rolling: betweenGuides,
  grille: betweenGuides,
  rolling_fire: fire,
  high_speed: fabric,
  one_piece: onePiece,
  slide_gate: slide,
  swing_gate: swing,
};
