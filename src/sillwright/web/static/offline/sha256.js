// The SHA-256 digest of bytes as hexadecimal text. Browsers give theirs on HTTPS and localhost only; a server on a
// plain address in a workshop gets the same digest from the slower one below (FIPS 180-4).

export async function sha256(bytes) {
  if (!globalThis.crypto?.subtle) return plainSha256(bytes);
  return hex(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)));
}

const hex = (bytes) => [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");

// First 32 bits of the fraction of a root of a prime: the standard's constants, worked out instead of copied.
const fraction = (number) => ((number - Math.floor(number)) * 2 ** 32) | 0;
const PRIMES = [];
for (let n = 2; PRIMES.length < 64; n += 1) if (PRIMES.every((prime) => n % prime)) PRIMES.push(n);
const ROUNDS = PRIMES.map((prime) => fraction(Math.cbrt(prime)));
const START = PRIMES.slice(0, 8).map((prime) => fraction(Math.sqrt(prime)));

export function plainSha256(bytes) {
  const given = new Uint8Array(bytes);
  const padded = new Uint8Array(((given.length + 72) >> 6) << 6); // a one, zeros, and the length in bits
  padded.set(given);
  padded[given.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(given.length / 2 ** 29));
  view.setUint32(padded.length - 4, given.length << 3);
  const state = Int32Array.from(START);
  const words = new Int32Array(64);
  for (let at = 0; at < padded.length; at += 64) block(state, words, view, at);
  const digest = new DataView(new ArrayBuffer(32));
  state.forEach((word, index) => digest.setInt32(4 * index, word));
  return hex(new Uint8Array(digest.buffer));
}

const turned = (word, by) => (word >>> by) | (word << (32 - by));

function block(state, words, view, at) {
  for (let i = 0; i < 16; i += 1) words[i] = view.getInt32(at + 4 * i);
  for (let i = 16; i < 64; i += 1) {
    const [late, early] = [words[i - 2], words[i - 15]];
    const a = turned(early, 7) ^ turned(early, 18) ^ (early >>> 3);
    const b = turned(late, 17) ^ turned(late, 19) ^ (late >>> 10);
    words[i] = (words[i - 16] + a + words[i - 7] + b) | 0;
  }
  let [a, b, c, d, e, f, g, h] = state;
  for (let i = 0; i < 64; i += 1) {
    const s = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const one = (h + s + ((e & f) ^ (~e & g)) + ROUNDS[i] + words[i]) | 0;
    const t = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const two = (t + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((word, index) => { state[index] = (state[index] + word) | 0; });
}
