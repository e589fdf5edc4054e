// What the answer would be with the facts tried so far. Nothing here is saved until somebody keeps it.
import { send } from "./net.js";
import { keep } from "./answers.keep.js";

export function tray(study) {
  const place = document.getElementById("tried");
  const pattern = document.getElementById("tried-fact").content;
  const [facts, headline, peak, changes] = ["[data-facts]", "[data-headline]", "[data-peak-force]", "[data-changes]"]
    .map((each) => place.querySelector(each));
  const supposed = new Map();
  let turn = 0;
  const self = { add, onback: () => {} };

  function listed(wrong) {
    facts.replaceChildren(...[...supposed].map(([fact, said]) => {
      const row = pattern.cloneNode(true);
      row.querySelector("[data-title]").textContent = said.title;
      row.querySelector("[data-value]").textContent = said.typed;
      row.querySelector("[data-wrong]").textContent = said.wrong ?? wrong[fact] ?? "";
      row.querySelector("[data-wrong]").hidden = !(said.wrong ?? wrong[fact]);
      row.querySelector("[data-out]").addEventListener("click", () => out(fact));
      row.querySelector("[data-keep]")?.addEventListener("click", (event) => kept(fact, said, event.target));
      return row;
    }));
  }

  function told(words, force = "", lines = []) {
    headline.textContent = words;
    peak.textContent = force;
    peak.hidden = !force;
    changes.replaceChildren(...lines.map((each) => {
      const line = document.createElement("li");
      line.textContent = each;
      return line;
    }));
  }

  async function show() {
    const mine = ++turn;
    place.hidden = false;
    listed({});
    told(place.dataset.working);
    const asked = Object.fromEntries([...supposed].map(([fact, said]) => [fact, said.typed]));
    const answer = await send(study.dataset.whatIf, { facts: asked }).catch(() => null);
    if (mine !== turn) return;
    if (!answer?.ok) return told(answer?.body?.message ?? place.dataset.failed);
    const { body } = answer;
    listed(body.mistakes);
    const { before, after } = body.peak_force;
    told(body.headline, before === after ? "" : `${place.dataset.peak}: ${before ?? "–"} → ${after ?? "–"}`, body.changes);
  }

  function add(fact, said) {
    supposed.set(fact, said);
    show();
  }

  function out(fact) {
    supposed.delete(fact);
    if (supposed.size) show();
    else back();
  }

  function back() {
    turn += 1;
    supposed.clear();
    place.hidden = true;
    self.onback();
  }

  async function kept(fact, said, button) {
    button.disabled = true;
    const { typed, title, seen, say } = said;
    const { wrong, here } = await keep(say, { fact, typed, title, seen }, place.dataset.unkept);
    said.wrong = wrong;
    if (wrong) return listed({});
    supposed.delete(fact);
    if (supposed.size) return show();
    if (here) return back();
    return location.reload();
  }

  place.querySelector("[data-back]").addEventListener("click", back);
  return self;
}
