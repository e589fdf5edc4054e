// Openings that were not studied yet are asked for one by one, so that a long list answers at once.
const waiting = [...document.querySelectorAll("[data-headline]")];

for (const card of waiting) {
  card.setAttribute("aria-busy", "true");
}
for (const card of waiting) {
  try {
    const answer = await fetch(card.dataset.headline, { headers: { Accept: "application/json" } });
    if (!answer.ok || answer.redirected) break;
    const said = await answer.json();
    card.querySelector(".said").textContent = said.headline;
    card.querySelector(".level").textContent = said.level_in_words;
  } catch {
    break;
  } finally {
    card.removeAttribute("aria-busy");
  }
}
