// Asking the server, and hearing its news.

/** What came back in place of an answer. */
export class Refusal extends Error {
  constructor(status, data) {
    super(data?.error ?? `the computer said ${status}`);
    this.status = status;
    this.data = data ?? {};
  }
}

/** No answer at all: the computer is out of reach. */
export class OutOfReach extends Error {}

async function answer(path, options) {
  let reply;
  try {
    reply = await fetch(path, { credentials: "same-origin", ...options });
  } catch (fault) {
    if (fault.name === "AbortError") throw fault;
    throw new OutOfReach("the computer is out of reach");
  }
  return reply;
}

/** A question that is answered in JSON. */
export async function ask(path, options = {}) {
  const reply = await answer(path, options);
  const data = await reply.json().catch(() => null);
  if (!reply.ok) throw new Refusal(reply.status, data);
  return data;
}

/** Something to be done, with what it needs. */
export const tell = (path, data, method = "POST", options = {}) =>
  ask(path, { method, headers: { "Content-Type": "application/json" }, body: JSON.stringify(data), ...options });

/** Bytes for a list of marks. */
export async function bytes(path, data) {
  const reply = await answer(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(data) });
  if (!reply.ok) throw new Refusal(reply.status, await reply.json().catch(() => null));
  return reply.arrayBuffer();
}

/** A file to keep: its name and what is in it. */
export async function file(path) {
  const reply = await answer(path, {});
  if (!reply.ok) throw new Refusal(reply.status, await reply.json().catch(() => null));
  const name = /filename="([^"]+)"/.exec(reply.headers.get("content-disposition") ?? "")?.[1] ?? "plan";
  return { name, blob: await reply.blob() };
}

/** News as they come; `heard` gets each, `reach` whether the computer can be heard at all. */
export function listen(path, heard, reach) {
  const source = new EventSource(path);
  source.onopen = () => reach(true);
  source.onerror = () => {
    reach(false);
    if (source.readyState === EventSource.CLOSED) setTimeout(() => listen(path, heard, reach), 4000);
  };
  source.onmessage = (event) => { reach(true); heard(JSON.parse(event.data)); };
  return source;
}

/** An id that no other entry has; this works over plain http too. */
export function newId() {
  const bits = crypto.getRandomValues(new Uint8Array(12));
  return [...bits].map((b) => b.toString(16).padStart(2, "0")).join("");
}
