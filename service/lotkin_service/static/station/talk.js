// Talking to the service: what it answers, and what it means if it does not.

const PATIENCE_MS = 10000;
const UNREACHED = new Set([502, 503, 504]);

export class Unreached extends Error {}
export class SignedOut extends Error {}

export class Problem extends Error {
  constructor(status, document) {
    super(document.detail || document.title || `answer ${status}`);
    this.status = status;
    this.document = document;
  }
}

export async function talk(path, { method = "GET", json, form, patience = PATIENCE_MS } = {}) {
  const headers = { Accept: "application/json" };
  const token = document.querySelector("meta[name=csrf]");
  if (method !== "GET" && token) headers["X-CSRF-Token"] = token.content;
  let body = form;
  if (json !== undefined) {
    headers["Content-Type"] = "application/json";
    body = JSON.stringify(json);
  }
  let answer;
  try {
    answer = await fetch(path, {
      method,
      headers,
      body,
      credentials: "same-origin",
      cache: "no-store",
      redirect: "error",
      signal: AbortSignal.timeout(patience),
    });
  } catch (error) {
    throw new Unreached(error.message);
  }
  if (UNREACHED.has(answer.status)) throw new Unreached(`answer ${answer.status}`);
  if (answer.status === 204) return null;
  let content = {};
  try {
    content = await answer.json();
  } catch {
    if (answer.ok) throw new Unreached("the answer was cut off");
  }
  if (answer.ok) return content;
  if (answer.status === 401) throw new SignedOut(content.detail);
  throw new Problem(answer.status, content);
}
