// Brings the page of a station up again while the service cannot be reached.

const KEPT = "lotkin-station-{{ version }}";
const FILES = {{ files | tojson }};
const PATIENCE_MS = 4000;

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches.open(KEPT).then((kept) => kept.addAll(["/station", ...FILES]))
      .then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    caches.keys()
      .then((names) => Promise.all(
        names.filter((name) => name.startsWith("lotkin-station-") && name !== KEPT)
          .map((name) => caches.delete(name))))
      .then(() => self.clients.claim()));
});

// The service first; what was kept only if it does not answer.
async function answer(request) {
  const kept = await caches.open(KEPT);
  try {
    const fresh = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
    if (fresh.status >= 502 && fresh.status <= 504) throw new Error(`answer ${fresh.status}`);
    if (fresh.ok && !fresh.redirected) await kept.put(request, fresh.clone());
    return fresh;
  } catch (error) {
    const known = await kept.match(request)
      || await kept.match(request, { ignoreSearch: true });
    if (known) return known;
    throw error;
  }
}

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  const isOurs = url.pathname === "/station" || url.pathname.startsWith("/static/");
  if (event.request.method === "GET" && url.origin === location.origin && isOurs) {
    event.respondWith(answer(event.request));
  }
});
