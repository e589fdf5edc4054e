// The cases that the length of an edge is computed for: one for each combination of readings that contradict each
// other. The twin of takeoff/length_facts.py and takeoff/repeats.py.
import { Fact } from "../fact.js";
import { above } from "./tape.js";
import { factAt, holds, patternsOf, plainly } from "./told.js";

// [{told, facts}]: the case and the fact behind each of its fields; none without a kind of leaf.
export function casesOf(table, opening) {
  const { value, rivals } = opening.get("door").get("kind");
  const kinds = (rivals.length ? rivals : [value]).filter((kind) => kind !== null);
  return kinds.flatMap((kind) => casesOfKind(table, opening, kind));
}

function casesOfKind(table, opening, kind) {
  const used = { clear_width: ["door.clear_width"], ...table.facts.used[kind] };
  const facts = Object.entries(used).map(([name, paths]) => [name, narrowed(table, toldFirst(opening, paths))]);
  const told = facts.map(([name, fact]) => [name, choices(fact)]);
  return combinations(told, table.facts.most_cases).map((values) => ({
    told: { kind, ...values, ...besides(table, opening, kind, values) },
    facts: Object.fromEntries(facts),
  }));
}

function toldFirst(opening, paths) {
  const found = paths.map((path) => factAt(opening, path));
  return found.find((fact) => fact.value !== null || fact.rivals.length) ?? found[0];
}

// A length by its measured readings: the smallest, or two readings where they lie too far apart.
function narrowed(table, fact) {
  if (fact.standing !== "known" || typeof fact.value !== "number") return fact;
  const measured = fact.readings.filter((each) => each.origin === "measured" && !each.doubtful && each.value !== null);
  if (measured.length < 2) return fact;
  const values = measured.map((each) => each.value);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const { path, readings } = fact;
  if (above(table, most - least, table.facts.repeats)) {
    return new Fact(path, { standing: "two readings", rivals: [least, most], readings });
  }
  const reading = measured.find((each) => each.value === least);
  return new Fact(path, { standing: "known", value: least, reading, readings });
}

// Whatever lies between two numbers gives a length between.
function choices({ value, rivals }) {
  if (!rivals.length) return [value];
  return rivals.every((each) => typeof each === "number") ? [Math.min(...rivals), Math.max(...rivals)] : rivals;
}

// The first combinations of one value out of each list, the last list turning fastest.
function combinations(lists, most) {
  const all = lists.reduce((number, [, values]) => number * values.length, 1);
  return Array.from({ length: Math.min(all, most) }, (_, at) => {
    let rest = at;
    const picked = [...lists].reverse().map(([name, values]) => {
      const value = values[rest % values.length];
      rest = Math.floor(rest / values.length);
      return [name, value];
    });
    return Object.fromEntries(picked);
  });
}

function besides(table, opening, kind, { underside }) {
  if (table.facts.guided.includes(kind)) {
    return { guide_condition: guidesAsTold(table, opening.get("door").get("guide_condition").value) };
  }
  const zones = opening.get("zones");
  if (kind === "slide_gate") return { post_count: postsNear(table, zones), tail_gap: tailGap(table, zones) };
  return kind === "swing_gate" ? { underside_open: undersideOpen(table, zones, underside) } : {};
}

// What the words on the guides come to; words that say neither count as guides that nobody looked at.
function guidesAsTold(table, words) {
  const { bent, locks, straight, not_straight: notStraight, no_hurt: noHurt } = patternsOf(table);
  const said = plainly(table, words ?? "").replaceAll("_", " ");
  const seen = said.replace(new RegExp(noHurt, `${noHurt.flags}g`), "good");
  if (bent.test(seen)) return "bent";
  if (locks.test(seen)) return "wind_locks";
  return straight.test(seen) && !notStraight.test(seen) ? "looked_at" : "not_looked_at";
}

const placeOf = (zone) => zone.get("place").value;

const gapsOf = (zones) => zones.map((zone) => zone.get("gap").value);

const isNear = (table, gap) => !above(table, gap, table.lengths["gate-near"]);

// How many fixed things a slide gate passes closely; null without a list, or where a gap is missing.
function postsNear(table, zones) {
  if (zones.standing !== "known") return null;
  const { fixed, receiving, tail } = patternsOf(table);
  const says = (pattern, zone) => holds(table, pattern, placeOf(zone));
  const beside = zones.items.filter((each) => says(fixed, each) && !says(receiving, each) && !says(tail, each));
  const gaps = gapsOf(beside);
  return gaps.includes(null) ? null : gaps.filter((gap) => isNear(table, gap)).length;
}

// The least gap between a slide gate's tail and anything fixed; far away where a complete list names none.
function tailGap(table, zones) {
  if (zones.standing !== "known") return null;
  const gaps = gapsOf(zones.items.filter((each) => holds(table, patternsOf(table).tail, placeOf(each))));
  const known = gaps.filter((gap) => gap !== null);
  const near = known.some((gap) => gap <= table.lengths["gate-near"]);
  return known.length < gaps.length && !near ? null : Math.min(...known);
}

// The gap below a swing gate's leaf anywhere along its swing: of several the one that counts as a zone.
function undersideOpen(table, zones, closed) {
  if (zones.standing !== "known") return null;
  const gaps = gapsOf(zones.items.filter((each) => holds(table, patternsOf(table).below, placeOf(each))));
  const known = gaps.filter((gap) => gap !== null && gap <= table.facts.most_gap);
  const [low, high] = [table.lengths["ul325-gate-underside"], table.lengths["gate-near"]];
  const inside = known.find((gap) => above(table, gap, low) && above(table, high, gap));
  if (inside !== undefined) return inside;
  if (known.length < gaps.length) return null;
  return known.length ? Math.min(...known) : closed;
}
