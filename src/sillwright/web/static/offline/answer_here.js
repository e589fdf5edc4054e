// The answer as this phone works it out, where entries of an opening wait here or the page itself is a kept one.
import { answerHere } from "./evaluating.js";
import { entries, flying, onChange, person } from "./outbox.js";
import { counted, filled } from "./words.js";

const place = document.getElementById("answer-here");
const isKept = () => document.documentElement.dataset.kept !== undefined;

let turn = 0;

// Keep the notice of a page in step with what waits.
export function watch(notice = place) {
  const look = () => looked(notice).catch(() => {});
  onChange(look);
  return look();
}

async function looked(notice) {
  const mine = ++turn;
  const who = await person();
  const { site, opening } = notice.dataset;
  const waits = who ? (await entries(who.id)).filter((each) => each.state === "waiting" && !flying.has(each.id) && touches(each, site, opening)) : [];
  const found = waits.length || isKept() ? await answerHere(site, opening).catch(() => null) : null;
  if (mine !== turn) return;
  notice.hidden = !found && !waits.length;
  const instead = document.getElementById(notice.dataset.instead ?? "");
  if (instead) instead.hidden = Boolean(found);
  order(notice, Boolean(found));
  if (found) return tell(notice, found, waits.length);
  if (waits.length) tell(notice, { headline: "", deciding: [], unknown: [] }, waits.length, "without");
}

const touches = (each, site, opening) => each.kind === "observation" && (each.opening === opening || (each.site === site && !each.opening));

function tell(notice, found, number, how = "waits") {
  const words = notice.dataset;
  put(notice, "[data-by]", number ? counted(words, how, number) : words.plain);
  put(notice, "[data-headline]", found.headline);
  list(notice, "[data-deciding]", found.deciding);
  list(notice, "[data-unknown]", found.unknown);
}

// What to order is worked out when somebody looks at it; the scripts for that are loaded then.
function order(notice, told) {
  const box = notice.querySelector("[data-order]");
  if (!box) return;
  box.hidden = !told;
  const mine = turn;
  box.ontoggle = async () => {
    if (!box.open) return;
    const lines = await orderIn(notice.dataset, box.dataset).catch(() => [box.dataset.failed]);
    if (mine === turn) box.querySelector("[data-lines]").replaceChildren(...lines.map(paragraph));
  };
  if (told) box.ontoggle();
}

async function orderIn({ site, opening }, words) {
  const { orderHere } = await import("./order_here.js");
  return orderHere(site, opening, words);
}

function paragraph(words) {
  const line = document.createElement("p");
  line.textContent = words;
  return line;
}

function put(notice, part, words) {
  const line = notice.querySelector(part);
  if (line.textContent !== words) line.textContent = words;
}

function list(notice, part, facts) {
  const box = notice.querySelector(part);
  if (!box) return;
  box.hidden = !facts.length;
  box.querySelector("ul").replaceChildren(...facts.map(({ fact, words }) => {
    const row = document.createElement("li");
    const link = document.createElement("a");
    link.href = filled(fact.startsWith("site.") ? notice.dataset.siteFact : notice.dataset.fact, { fact });
    link.textContent = words;
    link.className = "button plain";
    row.append(link);
    return row;
  }));
}

if (place) watch();
