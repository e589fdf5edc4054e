// Making a paper takes a moment: says so, and one press makes one paper.
for (const form of document.querySelectorAll("form[data-once]")) {
  let sent = false;
  form.addEventListener("submit", (event) => {
    if (sent) event.preventDefault();
    sent = true;
    form.querySelector("[data-told]").textContent = form.dataset.working;
  });
  addEventListener("pageshow", () => { sent = false; form.querySelector("[data-told]").textContent = ""; });
}

// A link that is shown once is taken with one touch.
for (const each of document.querySelectorAll("input[readonly]")) each.addEventListener("focus", () => each.select());
