// Fractions of whole numbers, and the one floating-point number nearest to each: lengths in feet and inches are exact.

export const fraction = (over, under = 1n) => ({ over, under });

export const plus = (one, other) => fraction(one.over * other.under + other.over * one.under, one.under * other.under);

export const times = (one, other) => fraction(one.over * other.over, one.under * other.under);

export const isWhole = ({ over, under }) => over % under === 0n;

export const isAtLeast = ({ over, under }, whole) => over >= BigInt(whole) * under;

// "12", "10.5", ".5", "10." or "3/4".
export function readFraction(text) {
  if (text.includes("/")) {
    const [over, under] = text.split("/");
    return fraction(BigInt(over), BigInt(under));
  }
  const [whole, part = ""] = text.split(".");
  return fraction(BigInt(whole + part), 10n ** BigInt(part.length));
}

const BITS = 70n; // more than a floating-point number holds, so that it is rounded once

// The nearest floating-point number, a tie to the even one.
export function toNumber({ over, under }) {
  if (over < 0n) return -toNumber(fraction(-over, under));
  const size = (number) => BigInt(number.toString(2).length);
  const shift = BITS + size(under) - size(over);
  const [top, bottom] = shift > 0n ? [over << shift, under] : [over, under << -shift];
  const rest = top % bottom === 0n ? 0n : 1n; // what is left over only breaks a tie
  return Number((top / bottom) * 2n + rest) * 2 ** -(Number(shift) + 1);
}
