// The words of the page, and what the page knows of a walk.
import { about } from "../told.js";

const root = document.getElementById("walk");
const words = document.getElementById("walk-words").dataset;

export const book = JSON.parse(root.dataset.book);
export const site = root.dataset.site;

export const say = (name, values = {}) => about(words[name], values);

const language = document.documentElement.lang || "en";
export const clock = (at) => new Date(at).toLocaleTimeString(language, { hour: "numeric", minute: "2-digit" });

export function today(now = new Date()) {
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
}

// A reading in words.
export function shown(row, { says, typed }) {
  if (says === "unknown") return say("unknownSaid");
  if (says === "none") return row.entry === "wires" ? say("noWires") : say("nothingSaid");
  return row.choices.find(([word]) => word === typed)?.[1] ?? typed ?? "";
}

// What a row comes to, in words; empty where nothing was said.
export function rowInWords(row, found) {
  if (found.state === "open") return "";
  if (row.entry !== "devices") return shown(row, found.head);
  if (found.state === "unknown") return say("unknownSaid");
  const there = found.edges.length ? (found.eyes.length ? "both" : "edge") : found.eyes.length ? "eye" : "neither";
  return found.others.length ? `${say(there)} · ${say("also", { what: found.others.map((key) => found.kinds[key].replaceAll("_", " ")).join(", ") })}` : say(there);
}

// Where it comes from: who, and that it was only assumed or told, or that two differ.
export function fromInWords({ state, head }) {
  if (state === "differs") return say("two");
  const origin = ["assumed", "told"].includes(head?.origin) ? say(head.origin) : "";
  return [origin, head?.by || head?.author].filter(Boolean).join(", ");
}

// What is missing at a door, in words.
export const lackInWords = ({ row, shot }) => (row ? rowTitle(row) : shot ? shot.words : say("lackUrgency"));
export const rowTitle = (row) => (row.of ? `${row.title} (${row.of})` : row.title);
export const urgencyInWords = (word) => book.urgencies.find(([each]) => each === word)?.[1] ?? "";
