// What this page asks of the server and sends to it.

/** The answer, or null where there is none. */
export async function get(path) {
  try {
    const answer = await fetch(path, { cache: "no-store" });
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
}

/** `{ ok, status, body }`; the body is null where the server did not answer, or not in JSON. */
export async function post(path, body) {
  try {
    const answer = await fetch(path, { method: "POST", body });
    return { ok: answer.ok, status: answer.status, body: await answer.json().catch(() => null) };
  } catch {
    return { ok: false, status: 0, body: null };
  }
}
