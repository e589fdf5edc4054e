// Arrows step a number. In front of a class, more keys: they work while no input has the focus.
const NUMBER = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)([^\d]*)$/i;
const BETWEEN = 600;

function round(size) {
  const power = 10 ** Math.floor(Math.log10(size));
  const share = size / power;
  return power * (share < 1.5 ? 1 : share < 3.5 ? 2 : share < 7.5 ? 5 : 10);
}

// A twentieth more or less, in round steps; a number that doubles is doubled or halved.
export function stepped(text, up, doubles = false) {
  const found = NUMBER.exec(text);
  if (!found) return null;
  const value = Number(found[1]);
  if (doubles) return `${up ? value * 2 : Math.max(1, Math.floor(value / 2))}${found[2]}`;
  const whole = !found[2].trim() && /^\d+$/.test(found[1]) && Math.abs(value) < 20;
  const step = value === 0 || whole ? 1 : round(Math.abs(value) * 0.05);
  const at = value / step;
  const next = (up ? Math.floor(at + 1e-9) + 1 : Math.ceil(at - 1e-9) - 1) * step;
  return `${Number(next.toPrecision(12))}${found[2]}`;
}

export function startKeys(bench, form, changed) {
  form.addEventListener("keydown", (event) => {
    const up = event.key === "ArrowUp";
    if ((!up && event.key !== "ArrowDown") || !event.target.matches("input[type=text]")) return;
    const next = stepped(event.target.value, up, event.target.dataset.step === "double");
    if (next === null) return;
    event.preventDefault();
    event.target.value = next;
    changed();
  });
  const list = document.getElementById("keys");
  if (!list) return;
  let typed = "";
  let timer = 0;
  const go = () => {
    const control = [...form.querySelectorAll(".control")].filter((each) => each.offsetParent)[Number(typed) - 1];
    typed = "";
    const entry = control?.querySelector("input:checked, input[type=text], select, input");
    entry?.focus();
    if (entry?.matches("[type=text]")) entry.select();
  };
  const press = (what) => document.querySelector(`#replay [data-do="${what}"]`)?.click();
  const others = { "?": () => list.showModal(), p: () => press("play"), ".": () => press("on"), ",": () => press("back"), 0: () => press("start") };
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && event.target.matches("input, select")) event.target.blur();
    if (event.ctrlKey || event.metaKey || event.altKey || list.open || event.target.matches("input, select, textarea")) return;
    if (/^\d$/.test(event.key) && (typed || event.key !== "0")) {
      clearTimeout(timer);
      typed += event.key;
      if (typed.length > 1) go();
      else timer = setTimeout(go, BETWEEN);
      event.preventDefault();
    } else if (others[event.key]) {
      event.preventDefault();
      others[event.key]();
    }
  });
  bench.addEventListener("click", (event) => { if (event.target.closest("[data-keys]")) list.showModal(); });
}
