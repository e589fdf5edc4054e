// A bench that answers while one types. Without this script the same form answers when it is sent.
import { startKeys } from "./workbench_keys.js";
import { startReplay } from "./workbench_replay.js";

const bench = document.getElementById("bench");
const form = document.getElementById("inputs");
const working = document.getElementById("working");
const PAUSE = 250;
const PATIENCE = 300;
const LONG = 3000;
const AGAIN = 3000;
let timer = 0;
let latest = null;

const isBlank = (row) => [...row.querySelectorAll("input, select")].every((each) =>
  !each.value.trim() || (each.tagName === "SELECT" && ![...each.options].some((option) => !option.value)));

// Rows that say something are counted first, as the server counts them.
function number(table) {
  const rows = [...table.querySelectorAll(".rows > [data-row]")];
  const ordered = [...rows.filter((row) => !isBlank(row)), ...rows.filter(isBlank)];
  ordered.forEach((row, at) => {
    const old = row.dataset.row;
    const path = `${table.dataset.table}[${at}]`;
    row.dataset.row = path;
    for (const each of row.querySelectorAll("[id], [for], [data-less]")) {
      for (const name of ["id", "for", "aria-describedby", "value"]) {
        if ((name !== "value" || each.matches("[data-less]")) && each.hasAttribute(name)) {
          each.setAttribute(name, each.getAttribute(name).replaceAll(old, path));
        }
      }
    }
  });
}

function query() {
  form.querySelectorAll("[data-table]").forEach(number);
  return new URLSearchParams(new FormData(form));
}

function later(pause = PAUSE) {
  clearTimeout(timer);
  timer = setTimeout(ask, pause);
}

async function ask() {
  latest?.abort();
  const mine = latest = new AbortController();
  const slow = setTimeout(() => { working.hidden = false; bench.setAttribute("aria-busy", "true"); }, PATIENCE);
  const slower = setTimeout(() => { working.textContent = working.dataset.long; }, LONG);
  const asked = query();
  asked.set("part", "result");
  let answer = null;
  let html = "";
  try {
    answer = await fetch(`${bench.dataset.at}?${asked}`, { signal: mine.signal, credentials: "same-origin" });
    html = await answer.text();
  } catch (error) {
    if (error.name === "AbortError") return;
    answer = null;
  } finally {
    clearTimeout(slow);
    clearTimeout(slower);
    if (mine === latest) { working.hidden = true; working.textContent = working.dataset.short; bench.removeAttribute("aria-busy"); }
  }
  if (answer?.redirected) form.submit(); // to the page that asks who one is
  else if (answer?.ok) show(html);
  else if (answer?.status === 503) later(AGAIN); // others compute; what was typed is asked for again
  else stale(answer?.status === 429 ? bench.dataset.tooMany : bench.dataset.offline);
}

function stale(words) {
  const told = document.createElement("p");
  told.className = "caution";
  told.textContent = words;
  const region = document.getElementById("answer");
  region.querySelector(".caution")?.remove();
  region.prepend(told);
}

function show(html) {
  const fresh = new DOMParser().parseFromString(html, "text/html");
  const open = new Set([...bench.querySelectorAll("details[open][id]")].map((each) => each.id));
  const regions = [...bench.querySelectorAll("[data-region]")].filter((each) => !each.parentElement.closest("[data-region]"));
  for (const region of regions) {
    const source = fresh.getElementById(region.id);
    if (!source || (region.id === "answer" && source.textContent === region.textContent)) continue;
    if (source.dataset.address) region.dataset.address = source.dataset.address;
    region.replaceChildren(...document.importNode(source, true).childNodes);
    region.querySelectorAll("details[id]").forEach((each) => { each.open = open.has(each.id); });
  }
  const source = fresh.getElementById("inputs");
  for (const told of form.querySelectorAll(".told[id]")) {
    const found = source.querySelector(`[id="${CSS.escape(told.id)}"]`);
    told.replaceChildren(...(found ? document.importNode(found, true).childNodes : []));
    for (let at = told.querySelector(".wrong")?.closest("details"); at; at = at.parentElement.closest("details")) at.open = true;
  }
  for (const entry of form.querySelectorAll("[id^='f-']")) {
    const found = source.querySelector(`[id="${CSS.escape(entry.id)}"]`);
    entry.toggleAttribute("aria-invalid", false);
    if (found?.hasAttribute("aria-invalid")) entry.setAttribute("aria-invalid", "true");
    if (entry.name === "vary" && found && document.activeElement !== entry) {
      entry.replaceChildren(...document.importNode(found, true).childNodes);
    }
  }
  history.replaceState(null, "", document.getElementById("result").dataset.address);
  dress();
}

// What only works with this script is shown by it.
function dress() {
  bench.querySelectorAll("#copy, [data-keys]").forEach((each) => { each.hidden = false; });
  form.querySelector(".ask").hidden = true;
  const replay = document.getElementById("replay");
  if (replay) startReplay(replay);
}

function more(button) {
  const table = button.closest("[data-table]");
  const row = document.importNode(table.querySelector("template").content, true).querySelector("[data-row]");
  table.querySelector(".rows").append(row);
  number(table);
  row.querySelector("input, select").focus();
}

function less(button) {
  const table = button.closest("[data-table]");
  button.closest("[data-row]").remove();
  table.querySelector("[data-more]").focus();
  later(0);
}

async function copy() {
  const address = new URL(document.getElementById("result").dataset.address, location.href).href;
  const told = document.getElementById("copied");
  try {
    await navigator.clipboard.writeText(address);
    told.textContent = bench.dataset.copied;
  } catch {
    told.textContent = `${bench.dataset.copy} ${address}`;
  }
}

form.addEventListener("input", () => later());
form.addEventListener("change", (event) => {
  const place = event.target.closest("[data-switch]")?.dataset.switch;
  if (place) document.getElementById(`in-${place}`).hidden = event.target.value === "none";
  later(0);
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  const pressed = event.submitter;
  if (pressed?.matches("[data-more]")) more(pressed);
  else if (pressed?.matches("[data-less]")) less(pressed);
  else later(0);
});
bench.addEventListener("click", (event) => { if (event.target.closest("#copy")) copy(); });
startKeys(bench, form, () => later());
dress();
