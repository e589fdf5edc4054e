// A new member of a list – a device, a station, a zone …: named on this device, so that it can be added without a
// signal. How members are called is said by the server as well (web/taking/lists.py).
import { entries, flying, onChange, site } from "./offline/outbox.js";
import { bare } from "./offline/saying.js";
import { filled, moment } from "./offline/words.js";
import { told } from "./taking.fields.js";

// What is read now is read today: by the device's own day, which a page that was kept does not know.
for (const field of document.querySelectorAll("input[data-today]")) {
  field.value ||= new Date(Date.now() - new Date().getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}

const SIGNS = "abcdefghijkmnpqrstuvwxyz23456789";

// What a form of a new member says, as observations: the first of them makes it. Nothing where it says nothing.
export async function entriesOfNew(form, button) {
  const { list, first, letters, title } = form.dataset;
  const chosen = button?.name === "choose";
  const typed = bare(chosen ? button.value : form.elements.typed?.value);
  if (!typed) return [];
  const named = JSON.parse(letters);
  const key = keyOf(named, typed, await taken(form));
  const before = JSON.parse(form.dataset.before || "[]");
  const about = { kind: "observation", site: told.site, opening: told.opening, says: "value", origin: "" };
  const made = { ...about, fact: `${list}.${key}.${first}`, title: named ? `${title} ${key}` : title, typed, shown: chosen ? bare(button.textContent) : "" };
  const more = [...form.querySelectorAll("[name^=with-]")].filter((each) => bare(each.value)).map(
    (each) => ({ ...about, fact: `${list}.${key}.${each.name.slice(5)}`, typed: bare(each.value), replaces: [] }),
  );
  return [{ ...made, makes: true, replaces: before.map(({ id }) => id), before: before.map((each) => ({ ...each, fact: list })) }, ...more];
}

// Keys that the page knew, that were told since, and that wait here.
async function taken(form) {
  const { list } = form.dataset;
  const [kept, waits] = await Promise.all([site(told.site).catch(() => null), entries(told.who).catch(() => [])]);
  const facts = kept?.openings.find((each) => each.id === told.opening)?.facts ?? {};
  const paths = [...Object.keys(facts), ...waits.filter((each) => each.opening === told.opening).map((each) => each.fact ?? "")];
  const inside = paths.filter((each) => each.startsWith(`${list}.`)).map((each) => each.slice(list.length + 1).split(".")[0]);
  return new Set([...form.dataset.taken.split(" "), ...inside]);
}

function keyOf(letters, typed, used) {
  if (!letters) return `m${[...crypto.getRandomValues(new Uint8Array(8))].map((each) => SIGNS[each % SIGNS.length]).join("")}`;
  for (let number = 1; ; number += 1) {
    const key = `${letters[typed] ?? "d"}${number}`;
    if (!used.has(key)) return key;
  }
}

// Members of the page's list that wait on this device.
export function showNew(place) {
  const words = place.dataset;
  const line = (entry) => {
    const made = document.createElement("p");
    const where = filled(entry.state === "refused" ? told.refused : told.here, { why: entry.why, time: moment(entry.at) });
    made.textContent = `${entry.title}: ${entry.shown || entry.typed} – ${where}`;
    return made;
  };
  const draw = async () => {
    const all = await entries(told.who).catch(() => []);
    const mine = all.filter((each) => each.makes && !flying.has(each.id) && each.opening === told.opening && each.fact.startsWith(`${words.list}.`));
    if (!mine.length && place.childElementCount && navigator.onLine) return location.reload(); // they are members now
    place.replaceChildren(...mine.map(line));
    place.hidden = !mine.length;
    return undefined;
  };
  onChange(draw);
  draw();
}
