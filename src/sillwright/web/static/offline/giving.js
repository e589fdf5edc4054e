// One answer on its way: written down on this device first, then sent at once where that is possible. A server that can
// be asked answers with the page drawn anew; else the answer waits here and is sent like everything that waits.
import { send as ask } from "../net.js";
import { add, addAll, correct, entries, flying, refused, taken, tell } from "./outbox.js";
import { freshId } from "./store.js";
import { me, send } from "./sync.js";

const PATIENCE = 10_000; // with a server that may be out of reach, ms

// Give answers, which belong together. Answers {kept} with what the server says of the last one, {refused} with the
// reason, {here} where they wait on this device, or {lost} where they could be kept nowhere. `entries` are what was
// written.
export async function give(fields, { say, page }) {
  const named = fields.map((each) => ({ id: freshId(), at: new Date().toISOString(), ...each }));
  for (const each of named) flying.add(each.id);
  const written = await write(named).catch(() => null);
  try {
    return await given(written ?? named, written !== null, say, page);
  } finally {
    for (const each of named) flying.delete(each.id);
    tell();
  }
}

async function given(made, written, say, page) {
  let answer = null;
  for (const each of made) {
    answer = navigator.onLine ? await sent(say, each, page) : null;
    if (!answer?.ok || !answer.body?.kept) break;
    if (written) await taken(each).catch(() => {}); // it is sent once more, which changes nothing
  }
  const [why, done] = [answer?.status === 422 && answer.body?.refused, answer?.ok && answer.body?.kept];
  if (done) return { kept: answer.body, entries: made };
  if (why && written) await refused(made[0], why);
  if (why) return { refused: why, entries: made };
  if (!written) return { lost: answer?.status ?? 0, entries: made };
  send(true);
  return { here: true, entries: made };
}

// Where the same fact has an answer that was refused, this one corrects it.
async function write(fields) {
  const tries = navigator.onLine ? 1 : 0; // it is sent at once, and may arrive whatever becomes of the answer
  if (fields.length > 1) return addAll(fields.map((each) => ({ ...each, tries })));
  const [one] = fields;
  const wrong = (await entries()).filter((each) => each.state === "refused" && each.fact === one.fact && sameDoor(each, one));
  const corrected = wrong.length ? await correct(wrong.at(-1).id, { ...one, tries }) : null;
  return [corrected ?? (await add({ ...one, tries }))];
}

const sameDoor = (a, b) => a.site === b.site && (a.opening ?? null) === (b.opening ?? null);

// As a page sends it. A token of forms that is too old, as on a kept page, is asked for anew.
async function sent(say, entry, page) {
  const { id, at, fact, says, typed, origin, by, on, evidence, replaces } = entry;
  const form = { id, at, fact, says, typed, origin, by, on, evidence, seen: (replaces ?? []).join(","), page };
  const once = () => ask(say, form, "POST", PATIENCE).catch(() => null);
  const answer = await once();
  if (answer?.status !== 403) return answer;
  const found = await me().catch(() => null);
  const [token, whose] = ["csrf", "person"].map((name) => document.querySelector(`meta[name="${name}"]`));
  if (!found || found.user.id !== whose?.content || found.csrf === token?.content) return answer;
  token.content = found.csrf;
  return once();
}
