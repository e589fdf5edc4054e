// The book (see offline/book.py) made ready once: patterns compiled, facts by name, their order in the survey.
import { CannotTell } from "./refusals.js";

const FORMAT = 3; // of offline/book.py; another one goes about it in a way that these scripts do not know
const READY = new WeakMap();

export function opened(book) {
  if (book?.format !== FORMAT) throw new CannotTell("format");
  if (!READY.has(book)) READY.set(book, new Opened(book));
  return READY.get(book);
}

export const join = (path, name) => (path ? `${path}.${name}` : name);

class Opened {
  constructor(book) {
    Object.assign(this, { book, limits: book.limits, devices: book.devices, imagined: book.imagined });
    this.groups = new Map(Object.entries(book.groups).map(([name, rows]) => [name, specsOf(rows)]));
    this.units = new Map(Object.entries(book.units));
    this.definitions = new Map(Object.entries(book.definitions));
    this.thresholds = new Map(Object.entries(book.thresholds));
    this.weights = new Map(Object.entries(book.weights));
    this.yes = new Map(Object.entries(book.typed.yes));
    this.signs = new Map(Object.entries(book.typed.signs));
    this.countries = new Set(book.typed.countries.split(" "));
    this.readOrigins = new Set(book.devices.read_origins);
    this.patterns = patternsOf(book);
    this.ranks = this.ranked();
  }

  // The declaration of the fact at a path; undefined where there is none.
  specAt(path) {
    const ofSite = path.startsWith("site.");
    const names = (ofSite ? path.slice("site.".length) : path).split(".");
    let group = this.groups.get(ofSite ? "Site" : "Opening");
    while (names.length) {
      const spec = group.get(names.shift());
      if (!spec) return undefined;
      if (spec.kind) return names.length ? undefined : spec;
      group = this.groups.get(spec.group);
      if (spec.many) names.shift(); // which member it is
    }
    return undefined;
  }

  trimmed(text) {
    return text.replace(this.patterns.around, "");
  }

  // The place of every fact in the order of the survey; members of lists share theirs.
  ranked() {
    const found = new Map();
    const walk = (group, path) => {
      for (const [name, spec] of this.groups.get(group)) {
        const here = join(path, name);
        found.set(here, found.size);
        if (spec.group) walk(spec.group, spec.many ? `${here}.*` : here);
      }
    };
    walk("Site", "site");
    walk("Opening", "");
    return found;
  }

  // The place of a fact like protection.e1.circuit or stations[0].closes.
  rank(path) {
    const parts = path.replaceAll("[", ".").replaceAll("]", "").split(".");
    let here = "";
    for (const part of parts) here = this.ranks.has(join(here, part)) ? join(here, part) : join(here, "*");
    return this.ranks.get(here) ?? this.ranks.get(parts[0]) ?? this.ranks.size;
  }
}

const specsOf = (rows) => new Map(rows.map((row) => [row.name, prepared(row)]));

const prepared = (row) => ({
  ...row,
  unit: row.unit ?? "1",
  choices: row.choices ?? [],
  synonyms: new Map(Object.entries(row.synonyms ?? {})),
  limits: row.limits ?? {},
});

function patternsOf({ patterns, typed }) {
  const [space, flags] = patterns.space;
  const found = { around: new RegExp(`^${space}+|${space}+$`, `g${flags}`), control: /[\0-\x08\x0b-\x1f]/ };
  for (const name of ["bare", "with_unit", "feet_inches", "date", "money", "id"]) {
    found[name] = new RegExp(`^(?:${patterns[name][0]})$`, patterns[name][1]);
  }
  for (const name of ["aside", "beneath"]) found[name] = new RegExp(...patterns[name]);
  found.vulgar = Object.entries(typed.vulgar).map(([sign, words]) => {
    return [new RegExp(`(?<=\\p{Nd})${space}?${sign}`, "gu"), sign, words];
  });
  return found;
}
