// Asking somebody, with or without a network: the question is on this phone before it is sent. What is missing in the
// form is left to the server to say; without this script the form is sent as it is.
import { add, discard, entries } from "./offline/outbox.js";
import { send } from "./offline/sync.js";

const form = document.getElementById("asking");
const told = document.getElementById("told");
const wrong = form.querySelector("[data-wrong]");
let busy = false;

// The question as an entry; nothing where something is missing.
function written() {
  const typed = Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, value.trim()]));
  const byLink = typed.to === "link";
  if (!typed.words || !typed.to || (byLink && !typed.name)) return null;
  const { site, opening, fact, title } = form.dataset;
  const whom = byLink ? { name: typed.name } : { to: typed.to };
  return { kind: "question", id: typed.key, site, opening, fact, title, words: typed.words, ...whom, ...(typed.photo ? { photo: typed.photo } : {}) };
}

function say(line, words) {
  line.textContent = words;
  line.hidden = !words;
}

// What became of it: on its page where it arrived, else what keeps it here.
async function after(entry, state) {
  const here = (await entries(entry.person)).find((each) => each.id === entry.id);
  if (!here) { location.assign(form.dataset.question); return; }
  busy = false;
  if (here.state === "refused") {
    await discard(entry.id); // it is in the form, and another try carries it anew
    say(told, "");
    say(wrong, here.why);
    wrong.scrollIntoView({ block: "center" });
    return;
  }
  form.hidden = true;
  say(told, here.later || (state === "idle" ? form.dataset.later : form.dataset.kept));
  told.scrollIntoView({ block: "center" });
}

form.addEventListener("submit", async (event) => {
  const entry = written();
  if (!entry) return;
  event.preventDefault();
  if (busy) return;
  busy = true;
  say(wrong, "");
  say(told, form.dataset.sending);
  try {
    const kept = await add(entry);
    await after(kept, await send(true));
  } catch {
    form.submit(); // this phone keeps nothing; the key of the question makes it one, however often it comes
  }
});
