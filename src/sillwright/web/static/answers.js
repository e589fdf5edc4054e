// The study page: the drawing as a map, questions answered in place, and what would be if a fact were another.
import { map } from "./answers.map.js";
import { questions } from "./answers.facts.js";

const study = document.getElementById("study");
map(study);
questions(study);

// On paper every chapter is open.
const closed = () => [...study.querySelectorAll("details:not([open])")];
let opened = [];
addEventListener("beforeprint", () => { opened = closed(); for (const each of opened) each.open = true; });
addEventListener("afterprint", () => { for (const each of opened) each.open = false; });
