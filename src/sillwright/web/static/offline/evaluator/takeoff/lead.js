// Where the lead comes out of an edge: the first rule that applies advises, what the survey says is ordered. The twin
// of takeoff/lead.py and takeoff/lead_side.py; why, and findings, are left out.
import { factAt, holds, isGate, patternsOf } from "./told.js";

// Inside looking out: {end, rule, exit, from_end, length, fin, confirmed}.
export function leadOf(table, opening) {
  const advised = adviceOf(table, opening);
  const lead = opening.get("lead");
  const usual = usualOf(table, opening);
  const kept = ["exit", "from_end", "length", "fin"].map((name) => [name, settled(lead.get(name), usual[name])]);
  return {
    end: endOf(lead.get("end"), advised),
    rule: advised.rule,
    ...Object.fromEntries(kept),
    confirmed: ["by", "on"].every((name) => stands(lead.get("confirmed").get(name))),
  };
}

function endOf(told, advised) {
  if (told.standing === "two readings" || told.standing === "none there") return null;
  if (told.standing === "known") return told.value;
  return advised.end === null && told.standing === "assumed" ? told.value : advised.end;
}

// What the survey says, else what is usual; null where two readings disagree.
function settled(fact, usual) {
  return fact.standing === "two readings" ? null : fact.value ?? usual;
}

// An assumption confirms nothing.
const stands = (fact) => fact.standing === "known" && fact.value !== null;

// What is usual for the kind of leaf; the lead of a gate reaches to its box and a little farther.
function usualOf(table, opening) {
  const { lead } = table;
  const usual = lead.usual[opening.get("door").get("kind").value] ?? lead.nothing;
  if (!isGate(table, opening)) return usual;
  const box = opening.get("box");
  const [offset, height] = [box.get("offset").value, box.get("height").value];
  return offset === null || height === null ? usual : { ...usual, length: offset + height + lead.upright_spare };
}

// The rules of the side, in order; the first that answers decides.

const sideOf = (fact) => (fact.value === "left" || fact.value === "right" ? fact.value : null);

function adviceOf(table, opening) {
  for (const rule of RULES) {
    const found = rule(table, opening);
    if (found) return found;
  }
  return { rule: "SIDE-9", end: null };
}

function ofItsOwn(table, opening) {
  if (factAt(opening, "door.kind").value === "high_speed") return { rule: "SIDE-11", end: null };
  return isGate(table, opening) ? { rule: "SIDE-8", end: null } : null;
}

// The side on which the operator is; null where that is not known, or it is in the middle.
function besideOf({ lead }, opening) {
  const operator = opening.get("operator");
  const side = sideOf(operator.get("side"));
  return side === null || lead.centre.includes(operator.get("kind").value) ? null : side;
}

// Whether there is too little free wall on a side.
function isBlocked({ lead, round_off: off }, opening, side) {
  const free = opening.get("free_wall").get(side);
  const values = free.rivals.length ? free.rivals : [free.value];
  return values.some((each) => each !== null && each < lead.free_wall - off);
}

function blocked(table, opening) {
  const side = besideOf(table, opening);
  if (side === null || !isBlocked(table, opening, side)) return null;
  const other = table.lead.other[side];
  return { rule: "SIDE-1", end: isBlocked(table, opening, other) ? null : other };
}

// Whether operator and leaf hang on different faces of the wall; a leaf whose face nobody told hangs inside.
function isOtherFace(opening) {
  const wall = factAt(opening, "operator.wall").value;
  return wall !== null && wall !== (factAt(opening, "door.mounted").value ?? "inside");
}

function operatorBeside(table, opening) {
  const side = besideOf(table, opening);
  return side === null || isOtherFace(opening) ? null : { rule: "SIDE-2", end: side };
}

function trolley(table, opening) {
  if (!table.lead.centre.includes(factAt(opening, "operator.kind").value)) return null;
  const box = factAt(opening, "box.side");
  const station = box.standing === "two readings" ? null : stationSide(table, opening);
  return { rule: "SIDE-3", end: sideOf(box) ?? station };
}

// The side that the words on the wall stations agree on; those on the outside do not count.
function stationSide(table, opening) {
  const patterns = patternsOf(table);
  const sides = new Set();
  for (const each of opening.get("stations").items) {
    const words = each.get("place").value;
    const [left, right, outside] = ["left", "right", "outside"].map((name) => holds(table, patterns[name], words));
    if (left !== right && !outside) sides.add(left ? "left" : "right");
  }
  return sides.size === 1 ? [...sides][0] : null;
}

function operatorOutside(table, opening) {
  const side = sideOf(factAt(opening, "operator.side"));
  return side === null || !isOtherFace(opening) ? null : { rule: "SIDE-4", end: side };
}

function secondLeaf(table, opening) {
  const other = sideOf(factAt(opening, "door.second_leaf.operator_side"));
  return other === null ? null : { rule: "SIDE-5", end: table.lead.other[other] };
}

const RULES = [ofItsOwn, blocked, operatorBeside, trolley, operatorOutside, secondLeaf];
