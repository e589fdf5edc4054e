// What is typed and not kept yet, by name; it survives the tab, and the browser.
import { store } from "./store.js";

const PREFIX = "draft ";

// Every draft of a page, by name, and how to keep and forget them. Without a store they last as long as the page.
export async function drafts(about) {
  const begin = `${PREFIX}${about} `;
  const known = new Map();
  try {
    const range = IDBKeyRange.bound(begin, `${begin}\uffff`);
    const db = await store();
    const [names, values] = await Promise.all([db.getAllKeys("notes", range), db.getAll("notes", range)]);
    names.forEach((name, at) => known.set(name.slice(begin.length), values[at]));
  } catch { /* nothing is kept in this browser */ }
  const write = (run) => store().then(run).catch(() => {});
  return {
    get: (name) => known.get(name),
    keep(name, value) {
      known.set(name, value);
      write((db) => db.put("notes", value, begin + name));
    },
    drop(name) {
      if (known.delete(name)) write((db) => db.delete("notes", begin + name));
    },
  };
}
