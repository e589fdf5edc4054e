// What is kept on this phone, how long the browser means to keep it, and how much room it takes.
import { store } from "./store.js";
import { about, room } from "./told.js";
import { keepOnlyOf } from "./own.js";
import { ask, hindrance, keptPaths } from "./worker.js";

const place = document.getElementById("lasting");
const list = document.getElementById("kept-sites");

async function tellLasting() {
  const found = await hindrance();
  for (const each of place.querySelectorAll("[data-hindrance]")) each.hidden = each.dataset.hindrance !== found;
  if (found === "store") return;
  const lasts = await navigator.storage?.persisted?.().catch(() => false);
  place.querySelector("[data-lasts]").hidden = !lasts;
  place.querySelector("[data-may-go]").hidden = Boolean(lasts);
  const estimate = await navigator.storage?.estimate?.().catch(() => null);
  const line = place.querySelector("[data-room]");
  if (!estimate?.quota) return;
  line.textContent = about(line.dataset.room, { used: room(estimate.usage), all: room(estimate.quota) });
  line.hidden = false;
}

// One site with those of its openings that are kept; nothing where none of it is.
function shown(site, paths) {
  const row = list.querySelector("template").content.cloneNode(true);
  const openings = site.openings.filter(({ id }) => paths.has(`/openings/${id}/`) || paths.has(`/openings/${id}/facts/`));
  const address = `/sites/${site.site.id}/`;
  if (!openings.length && !paths.has(address) && !paths.has(`${address}walk/`)) return null;
  link(row.querySelector("[data-site]"), site.site.name, paths.has(address) && address);
  const walk = `${address}walk/`;
  row.querySelector("[data-walks]").hidden = !paths.has(walk);
  row.querySelector("[data-walk]").href = walk;
  row.querySelector("[data-evening]").href = `${walk}#evening`;
  const items = row.querySelector("ul");
  for (const { id, tag } of openings) {
    const item = items.querySelector("template").content.cloneNode(true);
    link(item.querySelector("[data-study]"), tag, paths.has(`/openings/${id}/`) && `/openings/${id}/`);
    const facts = item.querySelector("[data-facts]");
    if (paths.has(`/openings/${id}/facts/`)) facts.href = `/openings/${id}/facts/`;
    else facts.remove();
    items.append(item);
  }
  return row;
}

function link(element, words, address) {
  element.textContent = words;
  if (address) element.href = address;
}

async function tellKept() {
  if (!list || (await hindrance())) return;
  const [sites, paths] = [await (await store()).getAll("sites"), await keptPaths()];
  const rows = sites.map((each) => shown(each, paths)).filter(Boolean);
  for (const path of ["/", "/workbench/"]) {
    const found = document.querySelector(`[data-path="${path}"]`);
    if (found) found.hidden = !paths.has(path);
  }
  list.querySelectorAll("li").forEach((each) => each.remove());
  list.append(...rows);
  document.getElementById("kept-none").hidden = rows.length > 0;
}

// Somebody pressed “Sign out” where there is no network.
function tellStillIn(place) {
  const line = place.querySelector("[role=status]");
  place.hidden = false;
  place.querySelector("[data-forget]").addEventListener("click", async () => {
    await ask({ do: "forget" });
    await keepOnlyOf(null);
    line.textContent = line.dataset.forgotten;
    await tellKept();
  });
}

const missing = document.getElementById("missing");
if (missing) missing.hidden = location.pathname === missing.dataset.here;
const still = document.getElementById("still-in");
if (still && new URLSearchParams(location.search).has("out")) tellStillIn(still);
if (place) tellLasting();
tellKept();
