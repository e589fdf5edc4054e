// The drawing as a map: a finding points at its place, a place at its findings.

export function map(study) {
  const figure = study.querySelector("#drawing");
  const size = study.querySelector("[data-size]");
  const findings = [...study.querySelectorAll("[data-points]")];
  const shapes = (place) => [...figure.querySelectorAll("[data-place]")].filter(
    (each) => each.dataset.place === place || each.dataset.place === `note.${place}`);

  function point(place) {
    for (const each of figure.querySelectorAll(".pointed")) each.classList.remove("pointed");
    for (const each of findings) each.classList.toggle("pointing", each.dataset.points === place);
    for (const each of shapes(place)) each.classList.add("pointed");
  }

  function centre(place) {
    if (figure.clientWidth < 600) enlarge(true);
    const box = shapes(place)[0]?.getBoundingClientRect();
    const frame = figure.getBoundingClientRect();
    if (box) figure.scrollLeft += box.left + box.width / 2 - frame.left - frame.width / 2;
  }

  function enlarge(on) {
    figure.classList.toggle("larger", on);
    size.setAttribute("aria-pressed", String(on));
    figure.scrollLeft = (figure.scrollWidth - figure.clientWidth) / 2;
  }

  function visit(finding) {
    point(finding.dataset.points);
    finding.focus({ preventScroll: true });
    finding.scrollIntoView({ block: "nearest" });
  }

  for (const each of findings) {
    each.addEventListener("focusin", () => point(each.dataset.points));
    each.addEventListener("click", () => point(each.dataset.points));
    each.querySelector(".show").addEventListener("click", (event) => {
      event.preventDefault();
      figure.scrollIntoView({ block: "nearest" });
      centre(each.dataset.points);
    });
  }
  for (const each of study.querySelectorAll("[data-flag]")) {
    const finding = document.getElementById(each.hash.slice(1));
    each.addEventListener("focus", () => { point(finding.dataset.points); centre(finding.dataset.points); });
    each.addEventListener("click", (event) => { event.preventDefault(); visit(finding); });
  }
  figure.addEventListener("click", (event) => {
    const place = event.target.closest("[data-place]")?.dataset.place.replace(/^note\./, "");
    const told = findings.filter((each) => each.dataset.points === place);
    if (!told.length) return;
    const at = told.indexOf(document.activeElement);
    visit(told[(at + 1) % told.length]);
  });
  size.addEventListener("click", () => enlarge(size.getAttribute("aria-pressed") !== "true"));
  size.hidden = false;
}
