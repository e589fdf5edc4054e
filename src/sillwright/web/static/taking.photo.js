// A photo that is taken on the page of a fact: kept like every photo, and named as evidence with the next value there.
import { photographed } from "./offline/shrink.js";
import { unkept } from "./photos.words.js";
import { nameEvidence, say, told } from "./taking.fields.js";

document.addEventListener("change", (event) => {
  if (event.target.matches("[data-photo-of]") && event.target.files.length) take(event.target);
});
document.addEventListener("click", (event) => {
  const off = event.target.closest("[data-not-shown]");
  if (off) nameEvidence(off.closest("[data-fact]").dataset.fact, "");
});

async function take(input) {
  const { photoOf: fact, spot } = input.dataset;
  const wrong = input.parentElement.querySelector("[data-photo-wrong]");
  wrong.hidden = true;
  input.disabled = true; // a second tap while the first photo is made ready
  try {
    const { id } = await photographed(input.files[0], { site: told.site, opening: told.opening, shot: "", fact, place: spot });
    nameEvidence(fact, `photo ${id}`);
    say(input.parentElement.querySelector("[data-shown] span").textContent);
  } catch (error) {
    unkept(error, wrong);
  } finally {
    input.disabled = false;
    input.value = ""; // the same file may be chosen again
  }
}
