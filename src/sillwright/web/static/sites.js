// Openings that were not studied yet are asked for one by one, so that a long list is there at once. The counts
// above the list follow.
const list = document.querySelector("#openings");
const count = (name, by) => {
  const place = document.querySelector(`#counts [data-count="${name}"]`);
  if (!place) return;
  place.textContent = Number(place.textContent) + by;
  if (name === "open") place.parentElement.hidden = place.textContent === "0";
};

async function asked(address) {
  const answer = await fetch(address, { headers: { Accept: "application/json" } });
  if (answer.redirected || answer.status === 401) return null; // signed out meanwhile
  return answer.ok ? answer.json() : {};
}

function show(card, answer) {
  const said = card.querySelector(".said");
  said.textContent = answer.headline ?? list.dataset.failed;
  if (!answer.headline) return;
  card.querySelector(".level").textContent = answer.level_in_words;
  if (answer.level) card.classList.add(answer.level);
  count("open", -1);
  count(answer.closing, 1);
}

async function study(cards) {
  for (const card of cards) {
    const said = card.querySelector(".said");
    const before = said.textContent;
    said.textContent = list.dataset.busy;
    try {
      const answer = await asked(card.dataset.headline);
      if (answer === null) { said.textContent = before; return; }
      show(card, answer);
    } catch {
      said.textContent = before; // no signal: the link still opens it
      return;
    }
  }
}

if (list) study([...list.querySelectorAll("[data-headline]")]);
