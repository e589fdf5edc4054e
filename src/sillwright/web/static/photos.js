// The shots of an opening: takes photos, and shows what is only on this device beside what the server has.
import { onChange, site } from "./offline/outbox.js";
import { bytesOf, photosOf } from "./offline/photos.js";
import { photographed } from "./offline/shrink.js";
import { keepSending, status } from "./offline/sync.js";
import { unkept } from "./photos.words.js";

const page = document.querySelector("#photos");
const told = page.dataset;
const large = document.querySelector("#large");
const shots = [...page.querySelectorAll("[data-shot]")];
const shotOf = (name) => shots.find((each) => each.dataset.shot === name) ?? shots.at(-1);
const nameOf = (shot) => shot.querySelector("[data-name]").textContent;
const itemOf = (id) => page.querySelector(`[data-photo="${id}"]`);

const say = (words) => { page.querySelector("[data-status]").textContent = words; };

// taking

for (const form of page.querySelectorAll("[data-take]")) {
  form.querySelector("[data-plain]").hidden = true;
  form.addEventListener("submit", (event) => event.preventDefault());
  form.file.addEventListener("change", () => form.file.files.length && take(form));
}

async function take(form) {
  const shot = form.closest("[data-shot]");
  const wrong = form.querySelector("[data-wrong]");
  wrong.hidden = true;
  form.file.removeAttribute("aria-invalid");
  say(told.working);
  form.file.disabled = true; // a second tap while the first photo is made ready
  try {
    const about = { site: told.site, opening: told.opening, shot: shot.dataset.shot, fact: form.fact?.value ?? shot.dataset.fact, place: shot.dataset.place ?? "" };
    await photographed(form.file.files[0], about);
    say(told.kept.replace("{words}", nameOf(shot)));
  } catch (error) {
    say("");
    unkept(error, wrong);
    form.file.setAttribute("aria-invalid", "true");
  } finally {
    form.file.disabled = false;
    form.file.value = ""; // the same file may be chosen again
  }
  await draw();
}

// showing

let drawing = Promise.resolve();
const draw = () => { drawing = drawing.then(drawn, drawn); return drawing; };

async function drawn() {
  const here = await photosOf(told.opening);
  const kept = await site(told.site);
  const known = (kept?.openings.find((each) => each.id === told.opening)?.photos ?? []).filter((each) => each.state === "kept");
  const better = new Set([...known, ...here].map((each) => each.id));
  for (const item of page.querySelectorAll("[data-coming]")) if (better.has(item.dataset.photo)) item.remove();
  for (const item of page.querySelectorAll("[data-only-here]")) if (!here.some((each) => each.id === item.dataset.photo)) gone(item, known);
  for (const photo of known) if (!itemOf(photo.id)) put(photo, sentThumb(photo));
  for (const photo of here.sort((a, b) => (a.at < b.at ? -1 : 1))) await putHere(photo);
  counted();
}

function gone(item, known) {
  const photo = known.find((each) => each.id === item.dataset.photo);
  if (!photo && status.state === "sending") return;
  URL.revokeObjectURL(item.querySelector("img").src);
  if (photo) item.replaceWith(sentThumb(photo));
  else item.remove(); // a person took it back
}

function put(photo, item) {
  const list = shotOf(photo.shot).querySelector(".thumbs");
  const newer = [...list.children].find((each) => each.dataset.taken <= photo.taken);
  list.insertBefore(item, newer ?? null);
}

function thumb(template, photo) {
  const item = document.querySelector(template).content.firstElementChild.cloneNode(true);
  item.dataset.photo = photo.id;
  item.dataset.taken = photo.taken;
  if (photo.copy_of) item.dataset.copy = "";
  item.querySelector("img").alt = nameOf(shotOf(photo.shot));
  item.querySelector("[data-when]").textContent = new Date(photo.taken).toLocaleString(document.documentElement.lang, { dateStyle: "medium", timeStyle: "short" });
  return item;
}

function sentThumb(photo) {
  const item = thumb("#thumb-sent", photo);
  item.querySelector("a").href = `${told.pages}${photo.id}/`;
  item.querySelector("img").src = `${told.images}${photo.id}/?small`;
  item.querySelector("[data-mark]").textContent = photo.copy_of ? told.copy : told.sent;
  return item;
}

async function putHere(photo) {
  let item = itemOf(photo.id);
  if (item && !("onlyHere" in item.dataset)) return;
  if (!item) {
    item = thumb("#thumb", photo);
    item.dataset.onlyHere = "";
    const bytes = await bytesOf(photo.id);
    item.querySelector("img").src = URL.createObjectURL(new Blob([bytes], { type: photo.media }));
    item.querySelector("button").addEventListener("click", () => enlarge(item));
    put(photo, item);
  }
  item.querySelector("[data-mark]").textContent = photo.state === "refused" ? told.refused.replace("{why}", photo.why) : told.here;
}

function counted() {
  const named = shots.filter((each) => each.dataset.shot);
  const done = named.filter((each) => each.querySelector("[data-photo]:not([data-copy])"));
  page.querySelector("[data-done]").textContent = told.count.replace("{count}", done.length).replace("{all}", named.length);
  for (const shot of named) {
    const taken = done.includes(shot);
    for (const [name, hidden] of [["[data-first]", taken], ["[data-again]", !taken], ["[data-none]", taken]]) {
      const words = shot.querySelector(name);
      if (words) words.hidden = hidden;
    }
  }
}

function enlarge(item) {
  const from = item.querySelector("img");
  Object.assign(large.querySelector("img"), { src: from.src, alt: from.alt });
  large.querySelector("[data-what]").textContent = `${from.alt}, ${item.querySelector("[data-mark]").textContent}`;
  large.querySelector("[data-unsent]").hidden = !("onlyHere" in item.dataset);
  large.showModal();
}
large.querySelector("[data-close]").addEventListener("click", () => large.close());

onChange(draw);
draw();
keepSending();
