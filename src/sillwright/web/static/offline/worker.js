// What a page asks of the worker, and what stands in the way of an offline mode.
import { store } from "./store.js";

const PATIENCE = 60_000; // ms

// Ask the worker for something; what it answers, {why: "network"} where it does not.
export async function ask(message) {
  const { active } = await navigator.serviceWorker.ready;
  const { port1, port2 } = new MessageChannel();
  return new Promise((done) => {
    const late = setTimeout(() => done({ why: "network" }), PATIENCE);
    port1.onmessage = ({ data }) => { clearTimeout(late); done(data); };
    active.postMessage(message, [port2]);
  });
}

// Why nothing opens here without a network: "plain" address, no "worker", no "store"; null where it does.
export async function hindrance() {
  if (!globalThis.isSecureContext) return "plain";
  if (!navigator.serviceWorker || !globalThis.caches) return "worker";
  try { await store(); } catch { return "store"; }
  return null;
}

// Paths of the pages that are kept, of whichever version.
export async function keptPaths() {
  const paths = new Set();
  for (const name of (await caches.keys()).filter((each) => each.startsWith("pages "))) {
    for (const { url } of await (await caches.open(name)).keys()) {
      const { pathname, search } = new URL(url);
      paths.add(pathname + search);
    }
  }
  return paths;
}

// Ask the browser not to clear what is kept here; whether it agreed.
export async function lasting() {
  return Boolean(await navigator.storage?.persist?.().catch(() => false));
}
