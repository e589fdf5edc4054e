// Words with numbers and times in them, as the language of the page writes them.
const language = document.documentElement.lang || "en";

// "{count} of {all}" with its places filled.
export function about(words, values) {
  return words.replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);
}

// The day and time of a moment.
export function when(moment) {
  return new Date(moment).toLocaleString(language, { dateStyle: "medium", timeStyle: "short" });
}

const STEPS = [["minute", 60], ["hour", 60], ["day", 24], ["month", 30], ["year", 12]];

// How long ago a moment is: "2 hours ago".
export function span(moment, now = Date.now()) {
  const said = new Intl.RelativeTimeFormat(language, { numeric: "auto" });
  let ago = Math.max(0, now - new Date(moment).getTime()) / 1000;
  let unit = "second";
  for (const [next, many] of STEPS) {
    if (ago < many) break;
    ago /= many;
    unit = next;
  }
  return unit === "second" ? said.format(0, "minute") : said.format(-Math.floor(ago), unit); // "this minute"
}

// Bytes, as people read them.
export function room(bytes) {
  const large = bytes >= 1e6;
  return new Intl.NumberFormat(language, {
    style: "unit", unit: large ? "megabyte" : "kilobyte", maximumFractionDigits: large ? 1 : 0,
  }).format(Math.max(bytes / (large ? 1e6 : 1e3), large ? 0 : 1));
}
