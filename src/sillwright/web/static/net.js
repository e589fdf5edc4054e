// Sends JSON to an address of this server, with the token that forms need. Answers {ok, status, body}; rejects where
// the server cannot be reached, or takes longer than `patience` milliseconds.
const token = () => document.querySelector('meta[name="csrf"]')?.content ?? "";

export async function send(address, data, method = "POST", patience = 0) {
  const answer = await fetch(address, {
    method,
    headers: { "Content-Type": "application/json", "X-CSRFToken": token(), Accept: "application/json" },
    body: JSON.stringify(data),
    credentials: "same-origin",
    ...(patience ? { signal: AbortSignal.timeout(patience) } : {}),
  });
  const text = await answer.text();
  let body = null;
  try { body = JSON.parse(text); } catch { body = null; }
  return { ok: answer.ok && !answer.redirected, status: answer.redirected ? 401 : answer.status, body };
}
