// Which edition of the site this page is of, whether it is kept on this device, and whether there is another. A page
// never changes under a person's hands: another edition is offered, and comes when it is asked for.
const page = document.body.dataset as { siteEdition: string; file: string };
const box = document.getElementById("edition")!;
const words = box.dataset;

// site is the path of the site, by which what it stores is parted from that of other sites of the same origin.
const site = new URL(".", location.href).pathname;

// told shows a text in the page's notice, with the button to load the other edition or without.
function told(text: string, offer: boolean): void {
  if (!box.isConnected) return; // the desk was locked
  document.getElementById("edition-text")!.textContent = text;
  document.getElementById("edition-load")!.hidden = !offer;
  box.hidden = false;
}

// fill puts values in the place of {names} in a text. All that the page says comes with it, from the language's file,
// in data attributes; none of it is put together here, since the order of words is the language's.
export function fill(text: string | undefined, values: Record<string, string>): string {
  return (text ?? "").replace(/\{(\w+)\}/g, (blank, name: string) => values[name] ?? blank);
}

// changed tells what another edition made of the boat's price.
export function changed(before: string, now: string): void {
  told(fill(words.changed, { before, now }), false);
}

export function hideNotice(): void {
  box.hidden = true;
}

// holdEdition holds a lock as long as the page is there, by which the service worker knows that the files of its
// edition are still needed. A page that the browser puts away for Back lets it go, or it could not be put away.
function holdEdition(): void {
  const name = `edition ${site} ${page.siteEdition}`; // as in sw.ts
  const held = new Promise<void>((release) => addEventListener("pagehide", () => release(), { once: true }));
  void navigator.locks.request(name, { mode: "shared" }, () => held);
}

interface Which {
  version?: string;
  edition: string;
}

// which asks a service worker what it has of this page.
function which(worker: ServiceWorker): Promise<Which> {
  const { port1, port2 } = new MessageChannel();
  return new Promise((answer) => {
    port1.onmessage = (event) => answer(event.data as Which);
    worker.postMessage({ act: "which", page: page.file }, [port2]);
  });
}

let registration: ServiceWorkerRegistration | undefined;
let loading = false; // a person has asked for the other edition

// look compares this page with the newest edition that is kept.
async function look(): Promise<void> {
  const newest = registration?.waiting ?? registration?.active;
  if (!newest || loading) return;
  const { version, edition } = await which(newest);
  if (version === undefined) return; // this page is in it no more
  if (version !== page.siteEdition) told(fill(words.offer, { edition }), true);
  else if (newest === registration?.waiting) newest.postMessage({ act: "take" }); // for the next visit
}

// load takes the other edition. The page keeps what is on it before it comes.
export function loadEdition(): void {
  loading = true;
  const waiting = registration?.waiting;
  if (!waiting) return location.reload();
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
  waiting.postMessage({ act: "take" });
}

// ask looks for a new edition behind whatever a person does. A host that takes the question and never answers must not
// stand in the way of the next one, so that it is probed before the browser is asked to look.
let asking = false;
async function ask(): Promise<void> {
  if (asking || !navigator.onLine) return;
  asking = true;
  try {
    await (await fetch("sw.js", { cache: "no-cache", signal: AbortSignal.timeout(10_000) })).text();
    await registration?.update();
  } catch {
    // no network now
  } finally {
    asking = false;
  }
}

// opened tells the service worker that this page is there: it keeps what the page needs, and lets go of what none does.
function opened(): void {
  registration?.active?.postMessage({ act: "opened", page: page.file });
}

// sayKept says it again, in the words of another language.
export function sayKept(): void {
  const place = document.getElementById("kept");
  if (place?.dataset.kept === "true") place.textContent = words.kept ?? "";
}

// kept says whether the page opens without a network: before a show that is worth knowing.
function kept(message: { kept: string } | { unkept: string }): void {
  if ("kept" in message && message.kept !== page.file) return;
  const place = document.getElementById("kept");
  if (!place) return; // the desk was locked
  place.textContent = "kept" in message ? (words.kept ?? "") : fill(words.unkept, { reason: message.unkept });
  place.dataset.kept = String("kept" in message);
}

export async function watchEditions(): Promise<void> {
  if (!("serviceWorker" in navigator)) return kept({ unkept: location.protocol });
  navigator.serviceWorker.onmessage = (event) => kept(event.data);
  holdEdition();
  addEventListener("pageshow", (event) => (event as PageTransitionEvent).persisted && holdEdition());
  try {
    registration = await navigator.serviceWorker.register("sw.js");
  } catch (fault) {
    return kept({ unkept: String(fault) });
  }
  const follow = (worker: ServiceWorker | null): void =>
    worker?.addEventListener("statechange", () => worker.state === "installed" && void look());
  follow(registration.installing);
  registration.addEventListener("updatefound", () => follow(registration!.installing));
  navigator.serviceWorker.addEventListener("controllerchange", () => void look());
  await navigator.serviceWorker.ready;
  opened();
  setTimeout(opened, 5000); // the page before this one lets its edition go at its own time
  await look();
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && void ask());
  addEventListener("online", () => void ask());
  setInterval(() => void ask(), 3_600_000);
}
