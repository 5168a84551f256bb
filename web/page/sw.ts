// The service worker keeps one edition of the site, so that a desk opens without a network. Files with a digest in
// their name never change and come from the cache; pages come from the network where there is one.
declare const SITE: { version: string; files: string[] }; // written in when the site is published
declare const self: ServiceWorkerGlobalScope;
export {};

const cacheName = `ribband-${SITE.version}`;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(cacheName).then((cache) => cache.addAll(SITE.files)).then(() => self.skipWaiting()));
});

// Older editions go once this one is there as a whole; pages that are open go on with the engine that they have loaded.
self.addEventListener("activate", (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((names) => names.filter((n) => n.startsWith("ribband-") && n !== cacheName))
      .then((old) => Promise.all(old.map((n) => caches.delete(n))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  const lasting = event.request.url.startsWith(new URL("assets/", self.registration.scope).href);
  event.respondWith(lasting ? fromCache(event.request) : fromNetwork(event.request));
});

// What has a digest in its name is the same for ever, so that nobody waits for a network to say so.
async function fromCache(request: Request): Promise<Response> {
  return (await caches.match(request, { ignoreSearch: true })) ?? fetch(request);
}

// A page is a few kilobytes and names its files by digest: the newest one always goes with the files that it names.
async function fromNetwork(request: Request): Promise<Response> {
  try {
    return await fetch(request);
  } catch (fault) {
    const kept = await caches.match(request, { ignoreSearch: true });
    if (kept) return kept;
    throw fault;
  }
}
