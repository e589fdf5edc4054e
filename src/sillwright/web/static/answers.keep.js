// Keeps an answer through the address that people take facts down with.
import { send } from "./net.js";

// A name for an observation, made here, so that sending it twice keeps it once.
export function name() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 15) | 64;
  bytes[8] = (bytes[8] & 63) | 128;
  const hex = [...bytes].map((each) => each.toString(16).padStart(2, "0")).join("");
  return [[0, 8], [8, 12], [12, 16], [16, 20], [20, 32]].map(([from, to]) => hex.slice(from, to)).join("-");
}

// What the server says against an answer; nothing where it is kept.
export async function keep(address, said, unkept) {
  const answer = await send(address, { says: "value", origin: "", ...said }).catch(() => null);
  return answer?.ok && answer.body?.kept ? "" : answer?.body?.refused ?? unkept;
}
