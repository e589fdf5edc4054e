// What a record comes to: {value, open}: true, false, or null with the facts that leave it open.

export const TRUE = { value: true, open: [] };
export const FALSE = { value: false, open: [] };
export const OPEN = (...open) => ({ value: null, open });

// True where one is; else open where one is.
export function anyJudged(parts) {
  if (parts.some((each) => each.value === true)) return TRUE;
  const doubtful = parts.filter((each) => each.value === null);
  return doubtful.length ? OPEN(...new Set(doubtful.flatMap((each) => each.open))) : FALSE;
}

// False where one is; else open where one is.
export function allJudged(parts) {
  if (parts.some((each) => each.value === false)) return FALSE;
  const doubtful = parts.filter((each) => each.value === null);
  return doubtful.length ? OPEN(...new Set(doubtful.flatMap((each) => each.open))) : TRUE;
}

// The values a fact may have: its own, its rivals, or "otherwise".
export function candidates(fact, otherwise) {
  if (fact.known && fact.value !== null) return [fact.value];
  return fact.rivals.length && !fact.rivals.includes(null) ? fact.rivals : otherwise;
}

// A fact's value where records may rest on it.
export const knownValue = (fact) => (fact.known ? fact.value : null);

// Every combination of one value out of each list, judged; null where they differ.
export function judgedAll(lists, judge) {
  const cases = lists.reduce((made, values) => made.flatMap((each) => values.map((value) => [...each, value])), [[]]);
  const shown = new Set(cases.map((each) => judge(...each)));
  return shown.size === 1 ? [...shown][0] : null;
}
