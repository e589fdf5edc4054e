// Evaluates the trees of offline/book.py over facts, with one algebra. The twin of base/rule.py.
// What a fact may be is {value} where it is known, else {variable, domain} with one representative of each value.
import { CannotTell } from "./refusals.js";

export class Evaluator {
  constructor(rules, facts, algebra, bound = new Map(), kept = new Map()) {
    Object.assign(this, { rules, facts, algebra, bound, kept });
  }

  // The same with one more name bound to a member of a list.
  bind(name, member) {
    return this.bindOnly(new Map([...this.bound, [name, member]]));
  }

  bindOnly(bound) {
    return new Evaluator(this.rules, this.facts, this.algebra, bound, this.kept);
  }

  value(tree) {
    const [kind, ...rest] = tree;
    switch (kind) {
      case "const": return this.algebra.constant(Boolean(rest[0]));
      case "and": return this.algebra.allOf(rest.map((item) => this.value(item)));
      case "or": return this.algebra.anyOf(rest.map((item) => this.value(item)));
      case "not": return this.algebra.negate(this.value(rest[0]));
      case "any":
      case "all": return this.quantified(kind, ...rest);
      case "call": return this.call(...rest);
      case "path": return this.test(this.facts.look(rest[0], this.bound), (value) => value === true);
      case "compare": return this.compare(...rest);
      default: throw new CannotTell(kind);
    }
  }

  // A definition says the same of the same member every time: it is worked out once.
  call(name, ...args) {
    const definition = this.rules.definitions.get(name);
    if (!definition) return this.facts.call(name, args, this.bound, this.algebra);
    const [parameters, body] = definition;
    if (parameters.length !== args.length || args.length > 1) throw new CannotTell(name);
    const members = args.map((each) => memberOf(each, this.bound));
    if (!this.kept.has(name)) this.kept.set(name, new Map());
    const kept = this.kept.get(name);
    const [member] = members;
    if (!kept.has(member)) kept.set(member, this.bindOnly(new Map(parameters.map((each) => [each, member]))).value(body));
    return kept.get(member);
  }

  quantified(kind, name, over, body) {
    const { options, open } = this.facts.members(over, this.bound);
    const found = options.map((items) => this.over(kind, name, items, body));
    if (!open) return found[0];
    const { algebra } = this;
    const chosen = found.map((value, at) => algebra.allOf([this.test(open, (number) => number === at), value]));
    return algebra.anyOf([algebra.allOf(found), ...chosen]); // the first: what holds of any option is known
  }

  over(kind, name, items, body) {
    const each = items.map((item) => this.bind(name, item).value(body));
    return kind === "any" ? this.algebra.anyOf(each) : this.algebra.allOf(each);
  }

  test(looked, holds) {
    if ("value" in looked) return this.algebra.constant(holds(looked.value));
    return this.algebra.test(looked.variable, looked.domain, holds);
  }

  compare(op, path, operand) {
    const relation = RELATIONS[op];
    if (!relation) throw new CannotTell(op);
    const same = this.rules.limits.same_number;
    const left = this.facts.look(path, this.bound);
    const [kind, constant] = operand;
    if (kind === "const") return this.test(left, (value) => relation(value, constant, same));
    if (kind !== "path") throw new CannotTell(kind);
    const right = this.facts.look(constant, this.bound);
    const choices = "value" in left ? [left.value] : left.domain;
    const ways = choices.map((one) => this.algebra.allOf([
      this.test(left, (value) => value === one),
      this.test(right, (value) => relation(one, value, same)),
    ]));
    return this.algebra.anyOf(ways);
  }
}

// The member of a list that a name stands for.
export function memberOf([kind, parts], bound) {
  const name = kind === "path" ? parts.join(".") : "";
  if (!bound.has(name)) throw new CannotTell(name);
  return bound.get(name);
}

// Whether two numbers are one and the same threshold, said in two units.
function near(one, other, same) {
  if (typeof one !== "number" || typeof other !== "number") return false;
  if (one === other) return true;
  const apart = Math.abs(one - other);
  return Number.isFinite(apart) && (apart <= Math.abs(same * other) || apart <= Math.abs(same * one));
}

// Only like is put in order with like: numbers, or days as ISO texts.
function ordered(one, other) {
  if (typeof one !== typeof other || (typeof one !== "number" && typeof one !== "string")) throw new CannotTell("order");
  return one < other ? -1 : one > other ? 1 : 0;
}

const RELATIONS = {
  "==": (one, other, same) => one === other || near(one, other, same),
  "!=": (one, other, same) => one !== other && !near(one, other, same),
  "<": (one, other, same) => ordered(one, other) < 0 && !near(one, other, same),
  "<=": (one, other, same) => ordered(one, other) <= 0 || near(one, other, same),
  ">": (one, other, same) => ordered(one, other) > 0 && !near(one, other, same),
  ">=": (one, other, same) => ordered(one, other) >= 0 || near(one, other, same),
  in: (value, many) => many.includes(value),
};
