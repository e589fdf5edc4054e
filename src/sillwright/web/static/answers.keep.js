// Keeps an answer of the study page: on this device first, then through the address that people take facts down with.
import { give } from "./offline/giving.js";
import { bare, ids } from "./offline/saying.js";

const { site, opening } = document.getElementById("answer-here").dataset;

// What became of an answer: {wrong} with the reason where it was not taken, {here} where it waits on this device.
export async function keep(address, { fact, typed, title = "", origin = "", seen = "" }, unkept) {
  const about = { kind: "observation", site, ...(fact.startsWith("site.") ? {} : { opening }), title };
  const said = { fact, says: "value", typed: bare(typed), origin, by: "", on: "", evidence: "", replaces: ids(seen) };
  const found = await give([{ ...about, ...said }], { say: address, page: "facts" });
  return { wrong: found.refused ?? ("lost" in found ? unkept : ""), here: Boolean(found.here) };
}
