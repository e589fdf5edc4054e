// Elements from a script: el("p", {class: "quiet"}, "words", child). Words are only ever text.
export function el(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (typeof value === "boolean") made.toggleAttribute(key, value);
    else if (value !== undefined && value !== null) made.setAttribute(key, value);
  }
  made.append(...children.flat().filter((each) => each !== null && each !== undefined && each !== ""));
  return made;
}

// A key. Its id lets the focus stay on it while the page is drawn anew.
export const key = (id, onclick, attributes, ...children) => el("button", { type: "button", id, onclick, ...attributes }, ...children);

// Put new content into a place: what had the focus has it again with the same letters marked, and nothing scrolls.
export function put(place, ...children) {
  const { id: had, selectionStart: from = null, selectionEnd: to = null } = place.contains(document.activeElement) ? document.activeElement : {};
  place.replaceChildren(...children.flat().filter(Boolean));
  if (!had) return;
  const has = document.getElementById(had);
  (has ?? place.querySelector("[data-first]"))?.focus({ preventScroll: true });
  if (from !== null && has?.setSelectionRange) has.setSelectionRange(from, to);
}
