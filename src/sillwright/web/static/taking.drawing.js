// Pieces of the page of facts, drawn anew by the server.
import { forget } from "./offline/cards.js";
import { prepare, told } from "./taking.fields.js";

// What the server says of a fact once something was written; `held` moves the focus to its card.
export function draw(body, held = true) {
  redraw(body);
  replaceCard(body, held);
  const history = document.getElementById("history");
  if (history && body.history) history.innerHTML = body.history;
}

function replaceCard(body, held) {
  const old = document.getElementById(`f-${body.fact}`);
  if (!old) return;
  const holder = document.createElement("div");
  holder.innerHTML = body.card;
  const made = holder.firstElementChild;
  const inside = old.contains(document.activeElement);
  old.replaceWith(made);
  forget(body.fact);
  prepare(made.parentElement);
  if (held || inside) made.querySelector("summary, h2, h3")?.focus({ preventScroll: true });
}

function redraw(body) {
  const map = document.getElementById("map");
  if (map && body.drawing) map.innerHTML = body.drawing;
  for (const [id, words] of [["headline", body.headline], ["progress", body.progress]]) {
    const line = document.getElementById(id);
    if (line && words) line.textContent = words;
  }
  for (const card of document.querySelectorAll("[data-place]")) {
    const found = body.windows?.[card.dataset.place];
    const shown = found && card.querySelector('.window use[href="#map-picture"]');
    if (!shown) continue;
    const [view, ...box] = found;
    shown.closest("svg").setAttribute("viewBox", view);
    ["x", "y", "width", "height"].forEach((name, at) => shown.nextElementSibling.setAttribute(name, box[at]));
  }
}

// What waited here is with the server now, or was taken back: its card as it stands.
export async function drawAnew(fact) {
  const page = document.querySelector("form[data-say] [name=page]")?.value ?? "facts";
  const found = await fetch(`${told.drawn}?${new URLSearchParams({ fact, page })}`, { credentials: "same-origin", cache: "no-store" }).catch(() => null);
  if (found?.ok && !found.redirected) draw(await found.json(), false);
}

// A piece that is fetched when it is opened; answers whether it came.
export async function fetched(details) {
  const address = details.dataset.fetch;
  if (!address || !details.open) return false;
  delete details.dataset.fetch;
  const page = document.getElementById("undo")?.elements.page?.value ?? "facts";
  try {
    const found = await fetch(`${address}${address.includes("?") ? "&" : "?"}part&page=${page}`, { credentials: "same-origin" });
    if (!found.ok || found.redirected) throw new Error(found.status);
    const holder = document.createElement("div");
    holder.innerHTML = await found.text();
    const inner = holder.querySelector(".question.ask");
    if (inner && details.matches(".told")) {
      inner.id = `in-${details.dataset.fact}`;
      delete inner.dataset.fact;
      inner.removeAttribute("aria-labelledby"); // the row around it has its name
    }
    details.querySelector("summary").after(...holder.childNodes); // the link to the page of its own comes after it
    prepare(details);
    if (inner) forget(details.dataset.fact);
    return true;
  } catch {
    details.dataset.fetch = address; // the link inside still leads there
    return false;
  }
}
