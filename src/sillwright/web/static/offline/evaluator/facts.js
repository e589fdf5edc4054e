// The facts of one opening as rules see them: known, or one representative of each value they may have.
// The twin of duty/facts.py, which says why.
import { callOf } from "./calls.js";
import { dayBefore, decidingDates, sameInterval } from "./dates.js";
import { Imagined } from "./imagined.js";
import { join } from "./opened.js";
import { CannotTell } from "./refusals.js";
import { Group, Listing } from "./survey.js";

const EVER = { first: "1900-01-01", last: "2100-12-31" };
const BOTH = [true, false];

export class OpeningFacts {
  constructor(rules, site, opening) {
    Object.assign(this, { rules, site, opening, variables: new Map(), domains: new Map() });
    this.goodDevices = rules.imagined.good_devices.map((each) => new Imagined(each));
    this.imagined = new Map(
      Object.entries(rules.imagined.members).map(([name, some]) => [name, some.map((each) => new Imagined(each))]),
    );
  }

  // A fact's value, or the values it may have.
  look(path, bound) {
    if (path.join(".") === "operator.rules_date") return this.rulesDate();
    const [owner, name] = this.owner(path, bound);
    if (owner instanceof Imagined) {
      if (owner.facts.has(name)) return { value: owner.facts.get(name) };
      return this.open(`${owner.path}.${name}`, this.domain(this.specOf(owner, name)));
    }
    const spec = owner.specs.get(name);
    if (!spec?.kind) throw new CannotTell(path.join("."));
    return this.looked(owner.get(name), spec);
  }

  specOf(imagined, name) {
    const spec = this.rules.groups.get(imagined.group).get(name);
    if (!spec?.kind) throw new CannotTell(join(imagined.path, name));
    return spec;
  }

  // The group or member that a path speaks of, and the name of its last part.
  owner(path, bound) {
    const [first, ...rest] = path;
    let owner = first === "site" ? this.site : bound.get(first) ?? this.opening;
    const names = first === "site" || bound.has(first) ? rest : [...path];
    const last = names.pop();
    for (const name of names) owner = this.below(owner, name);
    if (last === undefined) throw new CannotTell(first);
    return [owner, last];
  }

  below(owner, name) {
    const found = owner instanceof Group ? owner.get(name) : undefined;
    if (!(found instanceof Group)) throw new CannotTell(name);
    return found;
  }

  // The date that decides the device rules; where either date is in doubt every pair is tried.
  rulesDate() {
    const operator = this.opening.get("operator");
    const [board, made] = [operator.get("board_made"), operator.get("made")];
    const boards = [board.value, ...board.rivals].filter((value) => value !== null);
    if (!boards.length) return this.looked(made, operator.specs.get("made"));
    let dates = decidingDates(operator);
    if (made.standing === "assumed") dates = [...dates, ...boards];
    const doubtful = board.standing !== "known" ? board : made;
    if (board.standing === "assumed") dates = [EVER];
    const several = dates.some((each) => !sameInterval(each, dates[0]));
    // an aspect of its own: these are not all the values that the date itself may have
    return this.open((several ? doubtful : board).path, this.days(dates, "rules_date"), "rules");
  }

  looked(fact, spec) {
    const { countries, no_value: noValue } = this.rules.imagined;
    const { standing, value, rivals } = fact;
    if (fact.path === "site.country" && !fact.known && !rivals.length) return this.open(fact.path, countries);
    if (standing === "known" && value !== null && value !== noValue) {
      return spec.kind === "date" ? this.open(fact.path, this.days([value], spec.name)) : { value };
    }
    const telling = rivals.filter((each) => each !== null && each !== noValue);
    if (telling.length && telling.length === rivals.length) {
      return this.open(fact.path, spec.kind === "date" ? this.days(telling, spec.name) : telling);
    }
    return this.open(fact.path, this.domain(spec));
  }

  open(fact, domain, aspect = "") {
    return { variable: this.variable(fact, aspect), domain };
  }

  // Ordered member by member: what belongs together stays together, and diagrams stay small.
  variable(fact, aspect = "") {
    const key = `${fact} ${aspect}`; // a path has no space in it
    if (!this.variables.has(key)) {
      const root = fact.split(".")[0].split("[")[0];
      const listed = this.opening.specs.get(root)?.many;
      const rank = this.rules.rank(listed ? root : fact);
      this.variables.set(key, { number: this.variables.size, rank, fact, aspect });
    }
    return this.variables.get(key);
  }

  domain(spec) {
    if (!this.domains.has(spec)) this.domains.set(spec, this.domainOf(spec));
    return this.domains.get(spec);
  }

  domainOf(spec) {
    if (spec.kind === "flag") return BOTH;
    if (spec.kind === "choice") return spec.choices.filter((choice) => choice !== this.rules.imagined.no_value);
    if (spec.kind === "date") return this.days([EVER], spec.name);
    if (spec.kind !== "quantity" && spec.kind !== "count") return [""];
    const steps = this.rules.thresholds.get(spec.name)?.numbers ?? [];
    if (!steps.length) return [0, 1e9];
    const below = steps.flatMap((step, at) => [at ? (steps[at - 1] + step) / 2 : step - 1, step]);
    return [...below, steps.at(-1) + 1];
  }

  // The ends of every interval, and the days on both sides of each date at which rules change their mind.
  days(intervals, name) {
    const named = name === "made" || name === "board_made" ? "rules_date" : name;
    const days = new Set(intervals.flatMap(({ first, last }) => [first, last]));
    for (const cut of this.rules.thresholds.get(named)?.dates ?? []) {
      for (const day of [dayBefore(cut), cut]) {
        if (intervals.some(({ first, last }) => first <= day && day <= last)) days.add(day);
      }
    }
    return [...days].sort();
  }

  // The members of a list as {options, open}; imagined ones where it is not known and must be.
  members(path, bound) {
    const name = path.join(".");
    if (name === "operator_controls") return this.listed(this.opening.get("operator").get("controls"));
    if (path.at(-1) === "devices" && bound.has(path[0])) return this.means(bound.get(path[0]));
    return this.listed(this.opening.get(name));
  }

  listed(listing) {
    if (!(listing instanceof Listing)) throw new CannotTell("list");
    const { path, standing, items, rivals } = listing;
    if (standing === "known") return { options: [items] };
    if (standing === "two readings") return { options: rivals, open: this.open(path, rivals.map((_, at) => at)) };
    if (standing === "not asked" && !this.rules.imagined.needed.includes(path)) return { options: [[]] };
    const group = this.opening.specs.get(path.split(".").at(-1)).group;
    const some = this.imagined.get(group) ?? [new Imagined({ path, group, facts: {} })];
    return { options: [[], some], open: this.open(path, [0, 1]) };
  }

  // The devices that a zone names, by id or by kind; a name that is neither is no device that is there.
  means(zone) {
    const means = zone instanceof Imagined ? null : zone.get("means");
    if (!means?.known || means.value === null) {
      return { options: [[], this.goodDevices], open: this.open(means ? means.path : zone.path, [0, 1]) };
    }
    const there = this.listed(this.opening.get("protection"));
    const options = there.options.map((devices) => {
      const named = devices.map((each) => [each, this.namesOf(each)]);
      const found = means.value.flatMap((name) => named.filter(([, names]) => names.has(name)).map(([each]) => each));
      return [...new Set(found)];
    });
    return { options, open: there.open };
  }

  namesOf(device) {
    if (!(device instanceof Imagined)) return new Set([device.get("id").value, device.get("kind").value]);
    const zones = this.opening.get("zones").items; // it may be called by any id
    const names = zones.flatMap((zone) => zone.get("means").value ?? []);
    return new Set([device.facts.get("kind"), ...names.filter((name) => !this.rules.devices.kinds.includes(name))]);
  }

  call(name, args, bound, algebra) {
    return callOf(this, name, args, bound, algebra);
  }

  // Open where any of the facts it waits for may turn it; each question of a list has an answer of its own.
  judged({ value, open }, algebra, asked) {
    if (value !== null) return algebra.constant(value);
    return algebra.allOf(open.map((path) => this.either(algebra, path, asked)));
  }

  either(algebra, path, aspect) {
    return algebra.test(this.variable(path, aspect), BOTH, Boolean);
  }
}
