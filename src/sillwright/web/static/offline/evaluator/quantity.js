// What was typed with a unit as its SI number. The twin of base/quantity.py.
import { fraction, isAtLeast, isWhole, plus, readFraction, times, toNumber } from "./exact.js";
import { CannotTell, Refused } from "./refusals.js";
import { lengthOf } from "./text.js";

// The SI value; throws Refused where the server refuses it, CannotTell where only the server knows the unit.
export function parseQuantity(rules, text, unit) {
  if (lengthOf(text) > rules.limits.quantity) throw new Refused(text);
  const plain = tidy(rules, text);
  if (unit === "m") {
    const length = feetAndInches(rules, plain);
    if (length !== null) return toNumber(length);
  }
  if (rules.patterns.bare.test(plain)) {
    if (unit === "1") throw new CannotTell(unit); // no fact of a survey is asked for so
    throw new Refused(text);
  }
  const match = rules.patterns.with_unit.exec(plain);
  if (!match || match[2] === "%") throw new Refused(text);
  return converted(rules, Number(match[1]), match[2], unit);
}

function converted(rules, number, symbol, unit) {
  const wanted = rules.units.get(unit);
  const found = rules.units.get(symbol);
  if (!wanted || !found) throw new CannotTell(symbol);
  const [factor, offset, dimension] = found;
  if (dimension.some((power, at) => power !== wanted[2][at])) throw new Refused(symbol);
  const value = (number * factor + offset) / wanted[0];
  if (!Number.isFinite(value)) throw new Refused(symbol);
  return value;
}

// Feet with a decimal point can be read two ways: 10.6 ft is perhaps 10 ft 6 in.
export function isDecimalFeet(rules, text) {
  if (lengthOf(text) > rules.limits.quantity) return false;
  const feet = rules.patterns.feet_inches.exec(tidy(rules, text))?.groups.feet;
  return Boolean(feet?.includes("."));
}

function tidy(rules, text) {
  const signs = [...text].map((sign) => rules.signs.get(sign) ?? sign).join("");
  let plain = rules.trimmed(signs).replaceAll("''", '"'); // two single marks are inches
  for (const [after, sign, words] of rules.patterns.vulgar) {
    plain = plain.replace(after, ` ${words}`).replaceAll(sign, words);
  }
  return plain;
}

function feetAndInches(rules, plain) {
  const groups = rules.patterns.feet_inches.exec(plain)?.groups;
  if (!groups || (groups.feet === undefined && groups.inches === undefined)) return null;
  const feet = mixed(groups.feet ?? "0");
  const inches = mixed(groups.inches ?? "0");
  if (isRunTogether(groups.feet) || isRunTogether(groups.inches)) throw new Refused(plain);
  if (groups.feet !== undefined && groups.inches !== undefined) {
    if (isAtLeast(inches, 12) || !isWhole(feet)) throw new Refused(plain);
  }
  const [over, under] = rules.limits.inch.map(BigInt);
  const length = times(plus(times(feet, fraction(12n)), inches), fraction(over, under));
  return groups.sign === "-" ? fraction(-length.over, length.under) : length;
}

// A fraction that may be a whole number and a fraction run together: 11/2 for 1 1/2.
function isRunTogether(text) {
  if (!text?.includes("/")) return false;
  const [over, under] = text.split(/[ -]/).pop().split("/");
  return BigInt(over) >= BigInt(under);
}

// "6-1/2", "6 1/2", "1/2", "6.5" or "6".
function mixed(text) {
  const parts = text.replaceAll("-", " ").split(" ");
  const part = parts.pop();
  if (part.includes("/") && BigInt(part.split("/")[1]) === 0n) throw new Refused(text);
  return plus(readFraction(parts.join("") || "0"), readFraction(part));
}
