// The address of a call as the server reads it: `a=test:outcome` (`-`: don't know), after repairs `a=test:outcome:1`.
const UNKNOWN = "-";

const parts = (query, kind) => query.getAll(kind).map((each) => each.split(":"));

// What is told under a name, by what it is about; of two the last counts.
export const told = (query, kind) => new Map(parts(query, kind).map(([name, said]) => [name, said]));

// With something told: in its place where it was told before, else behind all others.
export function put(query, kind, name, value) {
  const all = query.getAll(kind);
  const at = all.findIndex((each) => each.split(":")[0] === name);
  const made = kind === "a" ? query.getAll("r").length : 0;
  const after = at < 0 ? (made ? [made] : []) : all[at].split(":").slice(2);
  const whole = [name, value ?? UNKNOWN, ...after].join(":");
  all.splice(at < 0 ? all.length : at, at < 0 ? 0 : 1, whole);
  query.delete(kind);
  for (const each of all) query.append(kind, each);
}

// Only what the server reads, each name once: what somebody wrote by hand must not take the answers with it.
export function readable(query, { who, symptoms, harm, tests }) {
  const names = ["who", "harm", "symptom", "a", "f", "r", "opening", "t", "left"];
  const found = new URLSearchParams();
  const known = {
    who: (value) => who.includes(value),
    symptom: (value) => symptoms.includes(value),
    harm: (value) => harm.includes(value.split(":")[0]) && /^[a-z_]+:(yes|no|unknown)$/.test(value),
    a: (value) => {
      const [name, said] = value.split(":");
      return Object.hasOwn(tests, name) && (said === UNKNOWN || tests[name].says.some(([id]) => id === said));
    },
  };
  const once = new Set();
  for (const [name, value] of query) {
    const about = ["who", "symptom", "opening", "t", "left"].includes(name) ? name : `${name} ${value.split(":")[0]}`;
    if (!names.includes(name) || once.has(about) || !(known[name]?.(value) ?? true)) continue;
    once.add(about);
    found.append(name, value);
  }
  return found;
}

// Without some of what was told.
export function leave(query, kind, stays) {
  const all = query.getAll(kind).filter((each) => stays(each.split(":")[0]));
  query.delete(kind);
  for (const each of all) query.append(kind, each);
}
