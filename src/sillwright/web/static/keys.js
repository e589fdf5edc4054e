// A pad of keys for lengths: feet, inches and sixteenths, or metres. It writes text; the server alone reads units.
const kept = "pad-units";

export const mode = (told) => localStorage.getItem(kept) ?? told.units;

// What a key makes of the text in a field.
export function pressed(text, key) {
  const plain = text.replace(/\s+$/, "");
  if (key === "clear") return "";
  if (key === "back") return plain.replace(/(?:\s?(?:ft|in|mm|m|\d+\/\d+ in)|.)$/u, "").replace(/\s+$/, "");
  if (/^\d+\/\d+$/.test(key)) {
    const whole = plain.replace(/\s?\d+\/\d+ in$/, "").replace(/\s?in$/, "");
    return `${whole}${whole ? " " : ""}${key} in`;
  }
  if (/^[a-z]+$/.test(key)) {
    if (new RegExp(`\\b${key}$`).test(plain) || !/\d$/.test(plain)) return text;
    return `${plain} ${key}`;
  }
  if (/(?:in|mm|\bm)$/.test(plain)) return text;
  return /ft$/.test(plain) ? `${plain} ${key}` : plain + key;
}

// A bare number from a laser meter is in metres, where the pad is: the unit is added where it can be seen.
export function withMetres(text) {
  return /^\d*[.]?\d+$/.test(text.trim()) ? `${text.trim()} m` : text;
}

export function open(input, told, read) {
  const pad = input.closest(".field")?.querySelector(".pad");
  if (!pad || pad.childElementCount || input.dataset.letters) return;
  for (const other of document.querySelectorAll(".pad")) if (other !== pad) close(other);
  draw(pad, input, told, read);
}

function close(pad) {
  pad.replaceChildren();
  pad.closest(".field")?.querySelector("input")?.removeAttribute("inputmode");
}

function draw(pad, input, told, read) {
  const now = mode(told);
  pad.replaceChildren(document.getElementById(`keys-${now}`).content.cloneNode(true));
  input.inputMode = "none";
  pad.onclick = (event) => {
    const key = event.target.closest("[data-key]")?.dataset.key;
    if (!key) return;
    if (key === "letters") {
      input.dataset.letters = "1";
      close(pad);
      input.focus();
    } else if (key === "other") {
      localStorage.setItem(kept, now === "us" ? "metric" : "us");
      read(input, mode(told));
      draw(pad, input, told, read);
    } else {
      input.value = pressed(input.value, key);
      input.dispatchEvent(new Event("input", { bubbles: true }));
    }
  };
}
