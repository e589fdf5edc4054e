// The answer in words: templates of the book with names filled in. The twin of study/headline.py and study/why.py.

export const fill = (template, values) => template.replace(/\{(\w+)\}/g, (_, name) => values[name]);

// The headline of an answer; empty where there is no answer here.
export function headlineInWords(book, { headline }) {
  if (!headline) return "";
  const named = headline.facts.map((path) => factInWords(book, path));
  const facts = named.join(named.some((each) => each.includes(",")) ? "; " : ", ");
  return fill(book.words.headline[headline.say], { facts, count: headline.count });
}

// What a rule asks.
export const asksInWords = (book, id) => book.words.asks[id];

// Why a fact is worth asking, in one line.
export function whyInWords(book, path) {
  const { why } = book.words;
  for (let plain = pattern(path); plain; plain = plain.slice(0, Math.max(0, plain.lastIndexOf(".")))) {
    if (plain in why) return why[plain];
  }
  return why[""];
}

// What a fact is called in a sentence.
export function factInWords(book, path) {
  const { whole, of_device: ofDevice, of_member: ofMember, lists, the } = book.words;
  if (path in whole) return whole[path];
  const what = titleOf(book, path) ?? path;
  const device = /^protection\.([^.[]+)\.(.*)/.exec(path);
  if (device) return fill(ofDevice[device[2]] ?? ofDevice[""], { what, name: device[1] });
  const member = /^(stations|controls|zones|operator\.inputs)\[(\d+)\]\.(.*)/.exec(path);
  if (!member) return fill(the, { what });
  const template = ofMember[`${member[1]}.${member[3]}`] ?? ofMember[""];
  return fill(template, { what, list: lists[member[1]], number: Number(member[2]) + 1 });
}

// A path without the names of list members: protection.*.state.
const pattern = (path) => path.replace(/\[\d+\]/g, ".*").replace(/^protection\.(?!\*)[^.]+/, "protection.*");

// What the last fact or group on the way is called.
function titleOf(book, path) {
  let [group, title] = [path.startsWith("site.") ? "Site" : "Opening", undefined];
  const names = pattern(path).replace(/^site\./, "").split(".").filter((name) => name !== "*");
  for (const name of names) {
    const row = book.groups[group].find((each) => each.name === name);
    if (!row) return undefined;
    title = row.title;
    group = row.group ?? group;
  }
  return title;
}
