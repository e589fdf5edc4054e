// Words of a template with numbers and times put into them: {name} stands for a value.
import { about } from "./told.js";

export const filled = (words, values) => about(words ?? "", values);

const rules = new Intl.PluralRules(document.documentElement.lang || "en");

// The words for a number: `data` holds them under the name and the class of the number, as data-entries-one.
export function counted(data, name, number) {
  const kind = rules.select(number);
  const words = data[name + kind[0].toUpperCase() + kind.slice(1)] ?? data[`${name}Other`];
  return filled(words, { n: String(number) });
}

const clock = new Intl.DateTimeFormat(document.documentElement.lang || "en", { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
const day = new Intl.DateTimeFormat(document.documentElement.lang || "en", { day: "numeric", month: "short" });

// A moment by the clock of this device; with its day where that is not today.
export function moment(at, now = new Date()) {
  const told = new Date(at);
  if (Number.isNaN(told.getTime())) return at;
  const today = told.toDateString() === now.toDateString();
  return today ? clock.format(told) : `${day.format(told)} ${clock.format(told)}`;
}

// How long ago it was, in the largest unit that fits: {data-minutes-one …}. A clock that was set back says nothing.
export function ago(data, at, now = Date.now()) {
  const minutes = Math.floor((now - new Date(at).getTime()) / 60_000);
  if (!(minutes >= 1)) return "";
  if (minutes < 60) return counted(data, "minutes", minutes);
  if (minutes < 48 * 60) return counted(data, "hours", Math.floor(minutes / 60));
  return counted(data, "days", Math.floor(minutes / 1440));
}
