// The bodies of an opening's edge: what would be ordered by the measurements there are. The twin of
// takeoff/bodies.py without a catalogue; findings are left out.
import { edgesOf } from "./length.js";
import { casesOf } from "./length_facts.js";

// The one that matters most first; none while the kind of leaf is not known. A length stands only where every reading
// gives the same; of dead strips the worse.
export function bodiesOf(table, opening) {
  const computed = casesOf(table, opening).map((basis) => ({ ...basis, edges: edgesOf(table, basis.told) }));
  const places = new Set(computed.flatMap(({ edges }) => edges.map((each) => each.place)));
  return [...places].map((place) => bodyAt(table, opening, computed, place));
}

const TOGETHER = ["body", "sensing", "channel", "piece"];

function bodyAt(table, opening, computed, place) {
  const there = computed.filter(({ edges }) => edges.some((each) => each.place === place));
  const told = there.map(({ edges }) => edges.find((each) => each.place === place));
  const [{ rule, count }] = told;
  const everywhere = told.length === computed.length;
  const same = TOGETHER.map((name) => [name, agreed(table, told.map((each) => each[name]), everywhere)]);
  return {
    place,
    rule,
    ...Object.fromEntries(same),
    pieces: Math.max(...told.map((each) => each.pieces)),
    dead_left: worse(told.map((each) => each.dead_left)),
    dead_right: worse(told.map((each) => each.dead_right)),
    informs_only: told.some((each) => each.informs_only),
    count: told.every((each) => each.count === count) ? count : null,
    missing: missingOf(table, opening, there[0].facts, told),
  };
}

// What every reading gives; null where they differ.
function agreed(table, values, everywhere) {
  const [first] = values;
  const alike = (each) => each !== null && Math.abs(each - first) <= table.round_off;
  return everywhere && first !== null && values.every(alike) ? first : null;
}

const worse = (strips) => (strips.includes(null) ? null : Math.max(...strips));

// Facts that are missing, and the one that should stand where another took its place.
function missingOf(table, opening, facts, told) {
  const { fact_of: factOf, fallback } = table.facts;
  const door = opening.get("door");
  const names = new Set(told.flatMap((each) => each.missing.map((name) => factOf[name])));
  if (names.has(factOf.serial) && door.get("serial").value !== null) names.delete(factOf.serial);
  for (const [instead, wanted] of Object.entries(fallback[door.get("kind").value] ?? {})) {
    const taken = Object.values(facts).find((fact) => fact.path === instead);
    if (taken && (taken.value !== null || taken.rivals.length)) names.add(wanted);
  }
  return [...names];
}
