// Questions answered where they stand, and tried without keeping them.
import { keep } from "./answers.keep.js";
import { tray } from "./answers.tried.js";

function complain(form, words) {
  const place = form.querySelector("[role=alert]");
  place.textContent = words;
  place.hidden = !words;
}

export function questions(study) {
  const tried = tray(study);
  const unkept = document.getElementById("tried").dataset.unkept;

  // It waits on this phone; the answer with it stands at the head of the page.
  function waits(form) {
    const note = document.createElement("p");
    note.textContent = document.getElementById("tried").dataset.here;
    note.setAttribute("role", "status");
    form.replaceWith(note);
  }

  async function answered(form, typed) {
    const { fact, seen, title, say } = form.dataset;
    if (form.classList.contains("trying")) return tried.add(fact, { typed, title, seen, say });
    const origin = form.elements.origin?.value ?? "";
    for (const each of form.querySelectorAll("button")) each.disabled = true;
    const { wrong, here } = await keep(say, { fact, typed, title, origin, seen }, unkept);
    if (here) return waits(form);
    if (!wrong) return location.reload();
    for (const each of form.querySelectorAll("button")) each.disabled = false;
    return complain(form, wrong);
  }

  function tryIn(form, on) {
    form.classList.toggle("trying", on);
    form.querySelector(".trying-note")?.remove();
    if (on) form.prepend(document.getElementById("try-note").content.cloneNode(true));
  }

  function tryFact(link) {
    const row = link.parentElement;
    row.querySelector("form")?.remove();
    row.append(document.getElementById("try-fact").content.cloneNode(true));
    const form = row.querySelector("form");
    form.querySelector("[data-title]").textContent = link.dataset.title;
    form.querySelector("[data-example]").textContent = link.dataset.example ?? "";
    const [input, select] = form.querySelectorAll("[name=typed]");
    for (const [value, said] of JSON.parse(link.dataset.choices ?? "[]")) select.add(new Option(said, value));
    (select.options.length ? input : select).remove();
    form.elements.typed.focus();
    form.querySelector("[data-close]").addEventListener("click", () => { form.remove(); link.focus(); });
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const { fact, title, seen, say } = link.dataset;
      tried.add(fact, { typed: form.elements.typed.value, title, seen, say });
    });
  }

  for (const form of study.querySelectorAll("form[data-fact]")) {
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      complain(form, "");
      const typed = event.submitter?.name === "typed" ? event.submitter.value : form.elements.typed.value;
      answered(form, typed);
    });
    const link = form.parentElement.querySelector(".try");
    link.setAttribute("role", "button");
    link.setAttribute("aria-pressed", "false");
    link.addEventListener("click", (event) => {
      event.preventDefault();
      const on = link.getAttribute("aria-pressed") !== "true";
      link.setAttribute("aria-pressed", String(on));
      tryIn(form, on);
    });
  }
  for (const link of study.querySelectorAll(".taken .try")) {
    link.addEventListener("click", (event) => { event.preventDefault(); tryFact(link); });
  }
  tried.onback = () => {
    for (const form of study.querySelectorAll("form.trying")) {
      if (form.dataset.fact) tryIn(form, false);
      else form.remove();
    }
    for (const link of study.querySelectorAll('.try[aria-pressed="true"]')) link.setAttribute("aria-pressed", "false");
  };
}
