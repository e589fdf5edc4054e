// Two ways to reason with what is not known: three values for one rule, decision diagrams for the whole answer.
// The twin of base/logic.py. Nodes are made in the same order as there, so that both give up at the same place.
import { compareText } from "./text.js";

// An unknown is {number, rank, fact, aspect}: its place in the order of the survey, the fact it belongs to, and which
// aspect of it. Two of the same fact and aspect are one object.
export function compareVariables(one, other) {
  return one.rank - other.rank || compareText(one.fact, other.fact) || compareText(one.aspect, other.aspect);
}

// True, false, or null for unknown.
export class Kleene {
  constant(value) {
    return value;
  }

  test(variable, domain, holds) {
    const answers = new Set(domain.map(holds));
    return answers.size === 1 ? [...answers][0] : null;
  }

  allOf(items) {
    return items.includes(false) ? false : items.includes(null) ? null : true;
  }

  anyOf(items) {
    return items.includes(true) ? true : items.includes(null) ? null : false;
  }

  negate(item) {
    return item === null ? null : !item;
  }
}

// So much is not known, and so entangled, that the diagrams would not end.
export class TooManyWays extends Error {}

const PAIRS = 2 ** 26; // more than there can be nodes: two numbers of nodes make one key

// Reduced, ordered decision diagrams: true, false, or a node {number, variable, children}; equal nodes are one object.
export class Diagrams {
  constructor(most) {
    Object.assign(this, { most, nodes: new Map(), ands: new Map(), nots: new Map() });
  }

  constant(value) {
    return value;
  }

  test(variable, domain, holds) {
    return this.node(variable, domain.map(holds));
  }

  allOf(items) {
    return items.reduce((result, item) => this.and(result, item), true);
  }

  anyOf(items) {
    return this.negate(this.allOf(items.map((item) => this.negate(item))));
  }

  negate(item) {
    if (typeof item === "boolean") return !item;
    if (!this.nots.has(item)) {
      this.nots.set(item, this.node(item.variable, item.children.map((child) => this.negate(child))));
    }
    return this.nots.get(item);
  }

  and(one, other) {
    if (one === false || other === false) return false;
    if (one === true || one === other) return other;
    if (other === true) return one;
    const key = Math.min(one.number, other.number) * PAIRS + Math.max(one.number, other.number);
    if (!this.ands.has(key)) this.ands.set(key, this.joined(one, other));
    return this.ands.get(key);
  }

  joined(one, other) {
    const leads = compareVariables(one.variable, other.variable) <= 0 ? one : other;
    const first = leads.variable;
    const below = (diagram, at) => (diagram.variable === first ? diagram.children[at] : diagram);
    return this.node(first, leads.children.map((_, at) => this.and(below(one, at), below(other, at))));
  }

  node(variable, children) {
    if (children.every((child) => child === children[0])) return children[0];
    const parts = children.map((child) => (typeof child === "boolean" ? child : child.number));
    const key = `${variable.number} ${parts.join(" ")}`;
    if (!this.nodes.has(key)) {
      if (this.nodes.size >= this.most) throw new TooManyWays();
      this.nodes.set(key, { number: this.nodes.size, variable, children });
    }
    return this.nodes.get(key);
  }

  // Every unknown fact that was met.
  get facts() {
    return new Set([...this.nodes.values()].map((node) => node.variable.fact));
  }
}

// The unknowns that a diagram depends on, in order: none where it is settled.
export function support(diagram) {
  const found = new Set();
  const seen = new Set();
  const open = [diagram];
  while (open.length) {
    const node = open.pop();
    if (typeof node === "boolean" || seen.has(node)) continue;
    seen.add(node);
    found.add(node.variable);
    open.push(...node.children);
  }
  return [...found].sort(compareVariables);
}
