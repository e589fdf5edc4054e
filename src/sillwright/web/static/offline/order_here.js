// What to order for an opening as this phone works it out, in lines of text. Loaded when somebody asks for it.
import { bookHere } from "./evaluating.js";
import { factInWords } from "./evaluator/say.js";
import { orderOf } from "./evaluator/takeoff/order.js";
import { leadInWords } from "./evaluator/takeoff/say.js";
import { inFeet, inMetres } from "./lengths.js";
import { site, toldOf } from "./outbox.js";
import { filled } from "./words.js";

const WAY = { reel: "wayReel", radio: "wayRadio", unknown: "wayUnknown" };
const UNSURE = { bodies: "unsureBodies", lead: "unsureLead", cord: "unsureCord" };

// "words" are those of the page, its units among them. Of a part that only the server can tell a line says so.
export async function orderHere(siteId, opening, words) {
  const [book, here] = await Promise.all([bookHere(), site(siteId)]);
  const found = orderOf(book, toldOf(here, opening));
  const show = words.units === "us" ? inFeet : inMetres;
  const lines = { bodies: bodyLines, lead: leadLines, cord: cordLines };
  return Object.entries(lines).flatMap(([part, said]) => {
    return found.unsure.includes(part) ? [words[UNSURE[part]]] : said(found[part], words, show, book);
  });
}

function bodyLines(bodies, words, show, book) {
  if (!bodies.length) return [words.noKind];
  return bodies.map((each) => {
    const place = book.words.takeoff.places[each.place];
    const line = filled(bodyWords(each, words), {
      place: place[0].toUpperCase() + place.slice(1),
      length: each.body === null ? "" : show(each.body),
      count: String(each.pieces),
      piece: each.piece === null ? "" : show(each.piece),
      facts: each.missing.map((path) => factInWords(book, path)).join("; "),
    });
    if (each.count === null) return `${line} ${words.howMany}`;
    return each.count > 1 ? `${line} ${filled(words.many, { count: String(each.count) })}` : line;
  });
}

function bodyWords({ body, pieces, piece, informs_only: informs, missing }, words) {
  if (body === null) return missing.length ? words.missing : words.none;
  if (informs) return words.informs;
  return pieces > 1 && piece !== null ? words.pieces : words.body;
}

function leadLines(lead, words, show, book) {
  return [...leadInWords(book, lead, show), lead.confirmed ? words.confirmed : book.words.takeoff.unconfirmed];
}

function cordLines({ kind, retracted, ratio, box_height: height }, words, show) {
  if (kind !== "cord") return [words[WAY[kind]]];
  return [filled(words.wayCord, { retracted: show(retracted), ratio: ratio.toFixed(2), height: show(height) })];
}
