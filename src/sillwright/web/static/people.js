// Shows a password that was typed, copies a link or token, and says why a passkey did not come.
for (const button of document.querySelectorAll("[data-reveal]")) {
  const input = document.getElementById(button.dataset.reveal);
  const show = (shown) => {
    input.type = shown ? "text" : "password";
    button.setAttribute("aria-pressed", String(shown));
  };
  button.classList.add("ready");
  button.addEventListener("click", () => show(input.type === "password"));
  input.form.addEventListener("submit", () => show(false)); // so that the browser knows it for a password
}

for (const button of document.querySelectorAll("[data-copy]")) {
  const input = document.getElementById(button.dataset.copy);
  button.classList.add("ready");
  button.addEventListener("click", async () => {
    input.select();
    let copied = true;
    try {
      await navigator.clipboard.writeText(input.value);
    } catch { // without TLS there is no clipboard
      copied = document.execCommand("copy");
    }
    if (copied) document.querySelector("[data-copy-status]").textContent = button.dataset.copied;
  });
}

document.addEventListener("allauth.error", (event) => {
  event.preventDefault();
  const reason = !window.PublicKeyCredential ? "none" : event.detail.exception?.name === "SecurityError" ? "name" : "other";
  for (const words of document.querySelectorAll("[data-passkey]")) words.hidden = words.dataset.passkey !== reason;
});
