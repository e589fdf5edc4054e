// Text as the server takes it: its length, its order, its small letters.

const SURROGATE = /[\ud800-\udfff]/;

// In signs, not in halves of signs.
export const lengthOf = (text) => (SURROGATE.test(text) ? [...text].length : text.length);

// By code points; a script's own order goes by halves of signs.
export function compareText(one, other) {
  if (one === other) return 0;
  if (!SURROGATE.test(one) && !SURROGATE.test(other)) return one < other ? -1 : 1;
  const [first, second] = [[...one], [...other]];
  const at = first.findIndex((sign, index) => sign !== second[index]);
  if (at < 0) return -1;
  return at < second.length && first[at].codePointAt(0) < second[at].codePointAt(0) ? -1 : 1;
}

// Small letters for comparing words; the long s is the one old letter that folds into a word of ours.
export const folded = (text) => text.toLowerCase().replaceAll("ſ", "s");

// A digit of any script as one of ours: digits come in runs of ten that begin with zero.
const DIGIT = /^\p{Nd}$/u;

export function plainDigits(text) {
  return text.replace(/\p{Nd}/gu, (sign) => {
    const point = sign.codePointAt(0);
    let first = point;
    while (DIGIT.test(String.fromCodePoint(first - 1))) first -= 1;
    return String((point - first) % 10);
  });
}
