// What the log of a fact comes to: every observation that no other one replaces. The twin of records/merge.py.
// A register is {heads, awaited}: the readings that stand, and the ids that were replaced before they came.

const earlier = (a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

export const empty = () => ({ heads: [], awaited: [] });

// The register after one more observation. Order and late arrival do not matter, nor does a repeat of what stands; one
// that was replaced after it came is to be taken in once.
export function withOne(register, added) {
  const gone = new Set((added.replaces ?? []).filter((id) => id !== added.id));
  const here = new Set(register.heads.map((each) => each.id));
  const heads = register.heads.filter((each) => !gone.has(each.id));
  if (!register.awaited.includes(added.id) && !here.has(added.id)) heads.push(added);
  const awaited = new Set([...gone].filter((id) => !here.has(id)));
  for (const id of register.awaited) if (id !== added.id) awaited.add(id);
  return { heads: heads.sort(earlier), awaited: [...awaited].sort() };
}

// What stands by fact: readings that an observation of another fact replaced do not (a member was taken away).
export function standing(registers) {
  const gone = new Set(Object.values(registers).flatMap((each) => each.awaited));
  const told = {};
  for (const [path, register] of Object.entries(registers)) {
    const heads = register.heads.filter((each) => !gone.has(each.id));
    if (heads.length) told[path] = heads;
  }
  return told;
}

// An entry of the outbox as a reading.
export function headOf(entry) {
  const { id, says, typed, origin, by, on, evidence, at, replaces, author } = entry;
  const head = { id, says, at: inMicroseconds(at), replaces: replaces ?? [] };
  for (const [name, value] of Object.entries({ typed, origin, by, on, evidence, author })) if (value) head[name] = value;
  return head;
}

// The server writes moments to the microsecond and with +00:00: the same form, so that moments sort as text.
const inMicroseconds = (at) => (at.endsWith("Z") ? `${at.slice(0, -1).padEnd(23, "0").slice(0, 23)}000+00:00` : at);
