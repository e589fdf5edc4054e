// From entries, one said thing each, to the facts of a site and an opening. The twin of survey/entries.py and of how
// survey/from_node.py reads what that makes.
import { Fact, Unsure, settle } from "./fact.js";
import { join } from "./opened.js";
import { isDoubtful, readValue } from "./reading.js";
import { CannotTell, Refused } from "./refusals.js";

// The facts that belong together; what nobody spoke of is "not asked".
export class Group {
  constructor(rules, name, path, found = new Map()) {
    Object.assign(this, { rules, name, path, found, specs: rules.groups.get(name) });
  }

  get(name) {
    if (!this.found.has(name)) this.found.set(name, this.absent(name));
    return this.found.get(name);
  }

  absent(name) {
    const spec = this.specs.get(name);
    if (!spec) throw new CannotTell(join(this.path, name));
    const here = join(this.path, name);
    if (spec.kind) return new Fact(here);
    return spec.many ? new Listing(here, "not asked") : new Group(this.rules, spec.group, here);
  }
}

// A list of groups: not asked, not known, known and then complete, assumed, or two readings of it as rivals.
export class Listing {
  constructor(path, standing, items = [], rivals = []) {
    Object.assign(this, { path, standing, items, rivals });
  }
}

const SAYS = new Set(["value", "unknown", "none", "removed"]);

// The entries as a survey: {site, opening, mistakes, unsure, members}. Throws where a survey could not hold them.
export function surveyOf(rules, told) {
  const builder = new Builder(rules);
  const site = builder.group("Site", below(told.site ?? [], "site."), "site", "site", null);
  const said = site.get("country")?.readings.some((each) => each.value !== null);
  if (!said) site.set("country", builder.country(told.country));
  const opening = builder.group("Opening", below(told.opening ?? [], ""), "", "", null);
  const { mistakes, unsure, members } = builder;
  return {
    site: new Group(rules, "Site", "site", site),
    opening: new Group(rules, "Opening", "", opening),
    mistakes,
    unsure,
    members,
  };
}

function below(entries, prefix) {
  const told = new Map();
  for (const each of entries) {
    if (!each.path.startsWith(prefix) || each.path === "site.name" || each.path === "tag") continue;
    added(told, each.path.slice(prefix.length)).push(asTold(each));
  }
  return told;
}

const added = (map, key, fresh = []) => map.get(key) ?? map.set(key, fresh).get(key);

function asTold({ says = "value", typed = "", origin }) {
  if (!SAYS.has(says)) throw new CannotTell(says);
  return { says, typed, origin: origin || null };
}

// The entries of a path by its first part, then by what follows that.
function parted(told) {
  const found = new Map();
  for (const [name, entries] of told) {
    const dot = name.indexOf(".");
    const first = dot < 0 ? name : name.slice(0, dot);
    added(found, first, new Map()).set(dot < 0 ? "" : name.slice(dot + 1), entries);
  }
  return found;
}

const byPath = () => Object.create(null); // a path is whatever somebody wrote

const without = (inner, key) => new Map([...inner].filter(([name]) => name !== key));

// At most so many, repeats of what was said before last.
function mostOf(told, most) {
  if (told.length <= most) return told;
  const seen = new Set();
  const [first, again] = [[], []];
  for (const one of told) {
    const key = JSON.stringify([one[0].says, one[0].typed ?? "", one[0].origin ?? null]);
    (seen.has(key) ? again : first).push(one);
    seen.add(key);
  }
  return [...first, ...again].slice(0, most);
}

class Builder {
  constructor(rules) {
    Object.assign(this, { rules, mistakes: byPath(), unsure: byPath(), members: byPath() });
  }

  // What was said below a group, by name. "path" is how entries call it, "where" how a survey does; "inherited" is
  // the origin of the list that the group stands in.
  group(kind, told, path, where, inherited) {
    const specs = this.rules.groups.get(kind);
    const found = new Map();
    for (const [name, inner] of parted(told)) {
      const spec = specs.get(name);
      const [here, there] = [join(path, name), join(where, name)];
      if (!spec) this.lost(here, inner.keys());
      else if (spec.kind) this.ofFact(found, spec, inner, here, there, inherited);
      else if (spec.many) found.set(name, this.listing(spec, inner, here));
      else this.ofGroup(found, spec, inner, here, there, inherited);
    }
    return found;
  }

  lost(here, names) {
    for (const rest of names) this.mistakes[rest ? join(here, rest) : here] = true;
  }

  ofFact(found, spec, inner, here, there, inherited) {
    this.lost(here, without(inner, "").keys());
    const fact = inner.has("") ? this.fact(spec, inner.get(""), here, there, inherited) : null;
    if (fact) found.set(spec.name, fact);
  }

  ofGroup(found, spec, inner, here, there, inherited) {
    if (inner.has("")) this.lost(here, [""]);
    const group = this.group(spec.group, without(inner, ""), here, there, inherited);
    if (group.size) found.set(spec.name, new Group(this.rules, spec.group, there, group));
  }

  // Null where nothing of what was said could be read. A text that cannot be read stands beside one that can as a
  // reading without a value: the two disagree.
  fact(spec, entries, here, there, inherited) {
    const told = entries.map((each) => [each, each.says === "value" ? this.valueOf(spec, each, here) : null]);
    if (this.unsure[here]) return new Unsure(there);
    const kept = mostOf(told.filter(([, value]) => value !== undefined), this.rules.limits.readings);
    const readings = kept.map(([each, value]) => ({
      value,
      origin: this.originOf(each) ?? inherited,
      doubtful: value !== null && isDoubtful(this.rules, spec, each.typed),
    }));
    const unread = told.find(([each, value]) => value === undefined && each.origin !== "assumed");
    if (unread && kept.some(([each]) => each.says === "value" && each.origin !== "assumed")) {
      readings.splice(this.rules.limits.readings - 1);
      readings.push({ value: null, origin: this.originOf(unread[0]) ?? "told", doubtful: false });
    }
    return readings.length ? settle(this.rules, spec, there, readings) : null;
  }

  // Undefined for a text that cannot be read.
  valueOf(spec, entry, here) {
    try {
      return readValue(this.rules, spec, here, entry.typed);
    } catch (error) {
      if (error instanceof Refused) this.mistakes[here] = true;
      else if (error instanceof CannotTell) this.unsure[here] = true;
      else throw error;
      return undefined;
    }
  }

  // Looked and none there was measured; not known comes from nowhere.
  originOf({ says, origin }) {
    if (origin && !this.rules.weights.has(origin)) throw new CannotTell(origin);
    if (says === "unknown") return null;
    return origin ?? (says === "none" ? "measured" : null);
  }

  listing(spec, inner, path) {
    const whole = new Set((inner.get("") ?? []).map((each) => each.says));
    const keyed = parted(inner);
    for (const key of keyed.keys()) if (!this.rules.patterns.id.test(key)) keyed.delete(key);
    const members = [...keyed].filter(([, told]) => [...told.keys()].some(Boolean));
    members.forEach(([key], at) => { this.members[`${path}[${at}]`] = `${path}.${key}`; });
    if (!members.length) {
      const empty = whole.has("none") || (keyed.size && !whole.has("unknown"));
      return new Listing(path, empty ? "known" : "not known");
    }
    const disputed = members.filter(([, told]) => told.has(""));
    if (disputed.length || whole.has("none")) {
      const fewer = whole.has("none") ? [] : members.filter((each) => !disputed.includes(each));
      const rivals = [this.items(spec, members, path, null), this.items(spec, fewer, path, null)];
      return new Listing(path, "two readings", [], rivals);
    }
    const told = members.flatMap(([, inside]) => [...inside.values()].flat());
    const assumed = told.every((each) => each.origin === "assumed");
    const items = this.items(spec, members, path, assumed ? "assumed" : null);
    return new Listing(path, assumed ? "assumed" : "known", items);
  }

  items(spec, members, path, inherited) {
    if (members.length > this.rules.limits.members) throw new CannotTell(path);
    const items = members.map(([key, told], at) => this.member(spec, key, told, path, at, inherited));
    if (!this.rules.groups.get(spec.group).has("id")) return items;
    const ids = items.map((each) => each.get("id").value).filter((id) => id !== null);
    if (new Set(ids).size < ids.length) throw new CannotTell(path); // no survey has an id twice
    return items;
  }

  // A member is called by its key where its group has ids, unless it says another id; else by its place in the list.
  member(spec, key, told, path, at, inherited) {
    const [here, numbered] = [join(path, key), `${path}[${at}]`];
    const specs = this.rules.groups.get(spec.group);
    const renamed = specs.has("id") && this.group(spec.group, without(told, ""), here, numbered, inherited).has("id");
    const where = specs.has("id") && !renamed ? here : numbered;
    const found = this.group(spec.group, without(told, ""), here, where, inherited);
    const silent = { value: null, origin: inherited, doubtful: false };
    if (!found.size) { // one of which nothing could be read is still there
      const first = [...specs.values()].find((each) => each.kind && each.name !== "id");
      found.set(first.name, settle(this.rules, first, join(where, first.name), [silent]));
    }
    if (specs.has("id") && !renamed) {
      found.set("id", settle(this.rules, specs.get("id"), join(where, "id"), [{ ...silent, value: key }]));
    }
    return new Group(this.rules, spec.group, where, found);
  }

  country(typed) {
    const spec = this.rules.groups.get("Site").get("country");
    const value = readValue(this.rules, spec, "site.country", typed);
    return settle(this.rules, spec, "site.country", [{ value, origin: null, doubtful: false }]);
  }
}
