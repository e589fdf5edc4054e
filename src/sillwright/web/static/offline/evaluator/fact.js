// Several readings of one fact and what they come to. The twin of base/fact.py, and of what survey/spec.py says of
// values that agree. A reading is {value, origin, doubtful}; a value of null with an origin: looked, none there.
import { agree, breadth, sameInterval } from "./dates.js";
import { CannotTell } from "./refusals.js";

export class Fact {
  constructor(path, { standing = "not asked", value = null, reading = null, rivals = [], readings = [] } = {}) {
    Object.assign(this, { path, standing, value, reading, rivals, readings });
  }

  // Whether rules may rest on it.
  get known() {
    return this.standing === "known" || this.standing === "none there";
  }

  get origin() {
    return this.reading?.origin ?? null;
  }
}

// A fact of which only the server can read something. Nothing rests on it: who looks gets no answer.
export class Unsure {
  constructor(path) {
    this.path = path;
  }
}
for (const name of ["standing", "value", "reading", "rivals", "readings", "known", "origin"]) {
  Object.defineProperty(Unsure.prototype, name, { get() { throw new CannotTell(this.path); } });
}

export function settle(rules, spec, path, readings) {
  const telling = readings.filter((each) => each.value !== null || each.origin !== null);
  if (!telling.length) return new Fact(path, { standing: "not known", readings });
  const real = outranking(telling);
  const same = (one, other) => alike(rules, spec, one.value, other.value);
  const agreed = real.every((one, at) => real.slice(at + 1).every((other) => same(one, other)));
  const best = repeated(rules, spec, real, same) ?? (agreed ? leading(rules, spec, real) : null);
  if (best === null) return new Fact(path, { standing: "two readings", rivals: rivalsOf(real, same), readings });
  const standing = best.origin === "assumed" ? "assumed" : best.value === null ? "none there" : "known";
  return new Fact(path, { standing, value: best.value, reading: best, readings });
}

// An assumption gives way to any other reading; a doubtful text gives way to a measured one.
function outranking(telling) {
  const told = telling.filter((each) => each.origin !== "assumed");
  const real = told.length ? told : telling;
  const measured = real.some((each) => each.origin === "measured" && !each.doubtful);
  return measured ? real.filter((each) => !each.doubtful) : real;
}

// Of equal weight the one that leaves least open; of these the first.
function leading(rules, spec, real) {
  const weight = (each) => rules.weights.get(each.origin ?? "");
  const open = (each) => (spec.kind === "date" && each.value !== null ? breadth(each.value) : 0);
  return real.reduce((best, each) => {
    const by = weight(each) - weight(best) || open(each) - open(best);
    return by < 0 ? each : best;
  });
}

function rivalsOf(real, same) {
  const kept = [];
  for (const each of real) if (!kept.some((other) => same(each, other))) kept.push(each);
  return kept.map((each) => each.value);
}

// Several measured lengths within half an inch are one: the smallest counts. Null where they are not.
function repeated(rules, spec, real, same) {
  const measured = real.filter((each) => each.origin === "measured" && each.value !== null);
  if (measured.length < 2 || spec.kind !== "quantity" || spec.unit !== "m") return null;
  const values = measured.map((each) => each.value);
  const least = Math.min(...values);
  if (Math.max(...values) - least > 8 * rules.limits.sixteenth * ROUNDED) return null;
  const others = real.filter((each) => !measured.includes(each));
  if (others.some((each) => !measured.some((one) => same(each, one)))) return null;
  return measured.find((each) => each.value === least);
}

const ROUNDED = 1 + 1e-9; // what conversion between units may add
const SHARE = 0.005; // by which two readings of one quantity may differ

function alike(rules, spec, one, other) {
  if (one === null || other === null) return one === other;
  if (spec.kind === "date") return agree(one, other);
  if (spec.kind === "quantity" || spec.kind === "count") {
    const least = spec.unit === "m" ? rules.limits.sixteenth : 0;
    return Math.abs(one - other) <= Math.max(least, SHARE * Math.max(Math.abs(one), Math.abs(other))) * ROUNDED;
  }
  if (spec.kind === "points") return samePoints(rules, one, other);
  return sameValue(one, other);
}

function samePoints(rules, one, other) {
  const near = (a, b) => Math.abs(a - b) <= rules.limits.sixteenth * ROUNDED;
  return one.length === other.length && one.every((pair, at) => pair.every((end, i) => near(end, other[at][i])));
}

// Words, true and false, lists of words, intervals and money; two numbers are the same only where they are equal.
export function sameValue(one, other) {
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null) return one === other;
  if (Array.isArray(one)) return one.length === other.length && one.every((each, at) => sameValue(each, other[at]));
  if ("first" in one) return sameInterval(one, other);
  return one.amount === other.amount && one.currency === other.currency && one.per === other.per;
}
