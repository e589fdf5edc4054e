// The page of the class follows what others of the class do. It asks whether there is anything new, and puts only that
// in place: what is folded open stays so, and so does the button that is under a finger.
const EVERY = 10_000; // ms
const board = () => document.getElementById("board");

// Where somebody is on the page, so that it can be found again on the one that takes its place.
function place() {
  const open = [...board().querySelectorAll("details[data-name][open]")].map((each) => each.dataset.name);
  const { name, value } = document.activeElement ?? {};
  return { open, name, value };
}

function putBack({ open, name, value }) {
  for (const each of board().querySelectorAll("details[data-name]")) each.open = open.includes(each.dataset.name);
  if (name) [...board().querySelectorAll("button")].find((each) => each.name === name && each.value === value)?.focus({ preventScroll: true });
}

async function look() {
  if (document.hidden || board().dataset.over) return;
  const response = await fetch(`${location.pathname}?seen=${board().dataset.seen}`, { cache: "no-store" });
  if (response.status !== 200) return; // nothing new, or too many ask at once
  const found = new DOMParser().parseFromString(await response.text(), "text/html").getElementById("board");
  if (!found || found.dataset.seen === board().dataset.seen) return;
  const before = place();
  board().replaceWith(found);
  putBack(before);
}

const quietly = () => look().catch(() => {}); // without a network the page stays as it is
setInterval(quietly, EVERY);
document.addEventListener("visibilitychange", quietly);
