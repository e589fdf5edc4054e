// The lead in words, inside looking out and mirrored. The twin of takeoff/lead_words.py. "show" turns metres into words.
import { opened } from "../opened.js";
import { fill } from "../say.js";
import { plainly } from "./told.js";

export function leadInWords(book, lead, show) {
  const { lead: words, mirror } = book.words.takeoff;
  const told = {
    exit: named(book, words.exits, words.other_exit, "exit", lead.exit),
    fin: named(book, words.fins, words.other_fin, "fin", lead.fin),
    distance: measured(words.distance, "far", lead.from_end, show),
    length: measured(words.length, "free", lead.length, show),
  };
  const lower = lead.end === null && lead.exit === "down";
  const end = (name) => (lower ? words.lower : words.ends[name ?? ""]);
  return [
    fill(words.inside, { ...told, end: end(lead.end) }),
    fill(words.outside, { ...told, end: end(mirror[lead.end]) }),
  ];
}

// As the catalogue writes it; else as somebody wrote it.
function named(book, words, other, name, said) {
  if (said === null) return words[""];
  const plain = plainly(book.takeoff, opened(book).trimmed(said)).replaceAll(" ", "_");
  return plain && Object.hasOwn(words, plain) ? words[plain] : fill(other, { [name]: said });
}

const measured = ([unknown, known], name, metres, show) =>
  metres === null ? unknown : fill(known, { [name]: show(metres) });
