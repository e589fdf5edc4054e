// Days as ISO texts, which sort as days do, and what is known to the day, the month or the year as {first, last}.

export const FIRST_DAY = "0001-01-01";
export const LAST_DAY = "9999-12-31";
export const ANY_DAY = { first: FIRST_DAY, last: LAST_DAY };

const DAY = 86_400_000; // milliseconds

const instant = (day) => Date.parse(`${day}T00:00:00Z`);

export const dayBefore = (day) => new Date(instant(day) - DAY).toISOString().slice(0, 10);

// How many days are left open.
export const breadth = ({ first, last }) => (instant(last) - instant(first)) / DAY;

export const within = (one, other) => other.first <= one.first && one.last <= other.last;

// Both can be said of one day.
export const agree = (one, other) => within(one, other) || within(other, one);

export const sameInterval = (one, other) => one.first === other.first && one.last === other.last;

// The same day of the year before; of 29 February the 28th.
export function yearBefore(day) {
  const year = String(Number(day.slice(0, 4)) - 1).padStart(4, "0");
  return day.endsWith("02-29") ? `${year}-02-28` : year + day.slice(4);
}

// A year, a year and month, or a date; null where the text is none of these.
export function readInterval(pattern, text) {
  const match = pattern.exec(text);
  if (!match) return null;
  const [, year, month, day] = match;
  if (year < "1900" || year > "2100" || (month && (month < "01" || month > "12"))) return null;
  if (!month) return { first: `${year}-01-01`, last: `${year}-12-31` };
  const longest = new Date(Date.UTC(Number(year), Number(month), 0)).getUTCDate();
  if (day && (Number(day) < 1 || Number(day) > longest)) return null;
  return { first: `${year}-${month}-${day ?? "01"}`, last: `${year}-${month}-${day ?? longest}` };
}

// Whether a day lies within the year before the survey; null where either leaves that open.
export function withinAYear(day, surveyed) {
  if (!day || !surveyed || day.last > surveyed.last) return null;
  if (day.first >= yearBefore(surveyed.last)) return true;
  return day.last < yearBefore(surveyed.first) ? false : null;
}

// Every date that may decide the device rules of an operator; a board older than its operator is a slip of the pen.
// The twin of duty/dated.py.
export function decidingDates(operator) {
  const [boards, mades] = ["board_made", "made"].map((name) => {
    const { value, rivals } = operator.get(name);
    return [value, ...rivals].filter((each) => each !== null);
  });
  if (!boards.length) return mades;
  const dates = boards.flatMap((one) => mades.map((other) => (one.last >= other.first ? one : other)));
  return dates.length ? dates : boards;
}
