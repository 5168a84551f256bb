// The service worker keeps one edition of this site, so that each desk that was visited opens without a network, and
// at once. Every file is checked against the digest that stood in the edition when it was published: what a stale host
// or a half-done upload hands out is not kept, so that no page ever meets the engine or the prices of another edition.
// A new edition waits until a person takes it on the page; what is open goes on with the files of its own.
declare const SITE: Site; // written in when the site is published
declare const self: ServiceWorkerGlobalScope;
export {};

interface Site {
  version: string;
  edition: string; // of the price book, for a person
  // by file name, with what each page needs, and the pages of its desk in other languages
  pages: Record<string, { version: string; files: string[]; others?: string[] }>;
  digests: Record<string, string>; // SHA-256 by file; of what is in it, where it is gzip
}

const minutes = 60_000;
const scope = new URL(self.registration.scope);
// A path has no blank in it: neither another site of this origin nor one below this one has a cache that begins so.
const own = `ribband ${scope.pathname} `;
const cacheName = own + SITE.version;

const ownCaches = async (): Promise<string[]> => (await caches.keys()).filter((name) => name.startsWith(own));

// pathOf is an address within the site; undefined elsewhere.
function pathOf(address: string): string | undefined {
  const { origin, pathname } = new URL(address);
  const within = origin === scope.origin && pathname.startsWith(scope.pathname);
  return within ? pathname.slice(scope.pathname.length) : undefined;
}

// pageOf is the page at an address: some hosts leave the ending out.
function pageOf(address: string): string | undefined {
  const path = pathOf(address);
  return path === undefined ? path : [path || "index.html", `${path}.html`].find((name) => name in SITE.pages);
}

async function digestOf(bytes: ArrayBuffer): Promise<string> {
  const start = new Uint8Array(bytes, 0, Math.min(2, bytes.byteLength));
  if (start[0] === 0x1f && start[1] === 0x8b) { // some hosts inflate by themselves
    bytes = await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
  }
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest].map((b) => b.toString(16).padStart(2, "0")).join("");
}

// A picture has no digest in the list, which every visitor loads: how it begins stands in the name. A list of them is
// named by the pages that are used where there is no network; other visitors keep what they have looked at.
const picture = /^assets\/picture-([0-9a-f]{12})\.jpg$/;
const pictureList = /^assets\/pictures-[0-9a-f]{12}\.json$/;

const expected = (file: string): string | undefined => SITE.digests[file] ?? picture.exec(file)?.[1];

// sound gives a file of this edition, or fails: from an earlier edition where it has not changed, else from the host,
// asked past every cache in between unless the digest in its name tells what it is.
async function sound(file: string): Promise<Response> {
  const lasting = file.startsWith("assets/");
  const ask = (cache: RequestCache) => () => fetch(file, { cache, signal: AbortSignal.timeout(5 * minutes) });
  const ways = lasting ? [() => fromOwn(file), ask("default"), ask("reload")] : [ask("reload")];
  let fault = "";
  for (const way of ways) {
    const found = await way();
    if (!found) continue;
    fault = found.ok ? "another edition" : `${found.status} ${found.statusText}`.trim();
    const bytes = await found.arrayBuffer();
    const digest = expected(file);
    if (!found.ok || !digest || !(await digestOf(bytes)).startsWith(digest)) continue;
    return new Response(bytes, { headers: { "Content-Type": found.headers.get("Content-Type") ?? "" } });
  }
  throw new Error(`${file}: ${fault}`);
}

async function fromOwn(file: string): Promise<Response | undefined> {
  for (const name of await ownCaches()) {
    const found = await (await caches.open(name)).match(file, { ignoreSearch: true });
    if (found) return found;
  }
  return undefined;
}

// keep stores a page after all that it needs: a page that is there is whole.
async function keep(page: string): Promise<void> {
  const cache = await caches.open(cacheName);
  if (await cache.match(page)) return;
  const have = async (file: string): Promise<void> => {
    if (!(await cache.match(file))) await cache.put(file, await sound(file));
  };
  for (const file of SITE.pages[page]!.files) {
    await have(file);
    if (pictureList.test(file)) for (const p of (await (await cache.match(file))!.json()) as string[]) await have(p);
  }
  await cache.put(page, await sound(page));
}

// visited are the pages that are open, or were kept of an earlier edition.
async function visited(): Promise<Set<string>> {
  const pages = new Set<string>();
  for (const client of await self.clients.matchAll({ includeUncontrolled: true, type: "window" })) {
    const page = pageOf(client.url);
    if (page) pages.add(page);
  }
  for (const name of await ownCaches()) {
    const cache = await caches.open(name);
    for (const page of Object.keys(SITE.pages)) if (await cache.match(page)) pages.add(page);
  }
  return pages;
}

// tell says to the open pages how keeping them went.
async function tell(message: { kept: string } | { unkept: string }): Promise<void> {
  for (const client of await self.clients.matchAll({ includeUncontrolled: true, type: "window" })) {
    if (pageOf(client.url)) client.postMessage(message); // and not those of a site below this one
  }
}

async function kept(pages: Iterable<string>): Promise<void> {
  try {
    for (const page of pages) {
      await keep(page);
      for (const other of SITE.pages[page]!.others ?? []) await keep(other);
      await tell({ kept: page });
    }
  } catch (fault) {
    await tell({ unkept: String(fault) });
    throw fault;
  }
}

self.addEventListener("install", (event) => {
  event.waitUntil(visited().then(kept).catch(async (fault) => {
    await caches.delete(cacheName); // all of an edition or nothing
    throw fault;
  }));
});

self.addEventListener("activate", (event) => event.waitUntil(sweep().then(() => self.clients.claim())));

// sweep deletes this site's other editions, unless a page of one is open, which holds a lock as long as it is.
async function sweep(): Promise<void> {
  const lock = `edition ${scope.pathname} `; // as in edition.ts
  const current = new Set(Object.values(SITE.pages).map((page) => lock + page.version));
  const { held = [], pending = [] } = await navigator.locks.query();
  const inUse = [...held, ...pending].some(({ name = "" }) => name.startsWith(lock) && !current.has(name));
  if (inUse) return;
  for (const name of await ownCaches()) if (name !== cacheName) await caches.delete(name);
}

self.addEventListener("message", (event) => {
  const { act, page } = event.data as { act: string; page: string };
  if (act === "take") event.waitUntil(self.skipWaiting());
  if (act === "opened") {
    event.waitUntil(sweep());
    event.waitUntil(kept(page in SITE.pages ? [page] : []).catch(() => undefined));
  }
  if (act === "which") event.ports[0]?.postMessage({ version: SITE.pages[page]?.version, edition: SITE.edition });
});

self.addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  if (event.request.mode === "navigate") {
    const page = pageOf(event.request.url);
    if (page) event.respondWith(opened(event.request, page));
  } else if (pathOf(event.request.url)?.startsWith("assets/")) {
    event.respondWith(fromOwn(event.request.url).then((found) => found ?? looked(event.request)));
  }
});

// looked gives what is not kept, and keeps a picture that somebody looks at. One that the host has made smaller is
// shown all the same.
async function looked(request: Request): Promise<Response> {
  const file = pathOf(request.url)!;
  if (!picture.test(file)) return fetch(request);
  try {
    const found = await sound(file);
    await (await caches.open(cacheName)).put(file, found.clone());
    return found;
  } catch {
    return fetch(request);
  }
}

// opened gives the saved page without asking anybody; one that is not saved comes past the host's caches.
async function opened(request: Request, page: string): Promise<Response> {
  return (await (await caches.open(cacheName)).match(page)) ?? fetch(request, { cache: "no-cache" });
}
