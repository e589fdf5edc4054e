// A quiet line on how to put the application on the home screen; when that was done, the browser is asked to keep what
// is here, and its answer is shown.
import { lasting } from "./worker.js";

const line = document.getElementById("install");
const part = (name) => line.querySelector(`[data-${name}]`);

function show(...names) {
  line.hidden = false;
  for (const name of ["offer", "by-hand", "lasts", "may-go"]) part(name).hidden = !names.includes(name);
}

async function installed() {
  show((await lasting()) ? "lasts" : "may-go");
}

addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  show("offer");
  part("offer").querySelector("button").onclick = async () => {
    await event.prompt();
    line.hidden = true; // the browser offers it once a page
  };
});
addEventListener("appinstalled", installed);
if (navigator.standalone === false) show("by-hand"); // a phone that offers it by hand alone
if (matchMedia("(display-mode: standalone)").matches) lasting();
