// The page's own script: it sends what a person does to the engine and puts the answer in place. It knows nothing of
// boats.
import { Deals, forms } from "./deals";
import { isUnsent, patch, patching } from "./patch";
import { openedPack } from "./seal";
import { VERSION } from "./protocol";
import type { FromWorker, Paper, Reply, Request, SavedFile, ToWorker } from "./protocol";

const page = document.body.dataset as { desk: string; worker: string; engine: string; pack: string };

const state = element("state");
const worker = new Worker(page.worker);
const waiting: Request[] = []; // what was done before the engine was there
let ready = false;
let count = 0; // of what a person did
let own = 0; // of what the page asks for by itself, counted down
let sentLink = "";

function element(id: string): HTMLElement {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no element ${id}`);
  return found;
}

function say(text: string, kind: "note" | "error" = "note"): void {
  state.textContent = text;
  state.dataset.kind = kind;
}

// fill puts values in the place of {names} in a text. All that the page says comes with it, from the language's file,
// in data attributes; none of it is put together here, since the order of words is the language's.
function fill(text: string | undefined, values: Record<string, string>): string {
  return (text ?? "").replace(/\{(\w+)\}/g, (blank, name: string) => values[name] ?? blank);
}

// send gives a request to the engine, and the number of its reply. What nobody did is sent quietly: it is numbered
// below zero, and leaves alone what was said of what a person did.
function send(request: Omit<Request, "v" | "id">, quietly = false): number {
  const id = quietly ? --own : ++count;
  const full: Request = { v: VERSION, id, seen: inView(), ...request };
  if (ready) worker.postMessage({ request: full } satisfies ToWorker);
  else waiting.push(full);
  return id;
}

worker.onmessage = (event: MessageEvent<FromWorker>) => {
  const message = event.data;
  if ("ready" in message) void begin();
  else if ("failed" in message) sayFailed(message.failed);
  else show(message.reply, message.restarted);
};
worker.onerror = (event) => sayFailed(event.message);

// The reason is of the browser or the host, in its words: it is for whoever is called to help.
function sayFailed(reason: string): void {
  say(fill(state.dataset.failed, { reason }), "error");
}

// The records of this device. What the store finds is there by the time that the engine is.
const deals = new Deals(send, say, buyersLink);

// begin opens the record of this tab, or what the address names, before anything that was done meanwhile.
async function begin(): Promise<void> {
  const found = await deals.begin();
  const early = waiting.splice(0);
  ready = true;
  deals.open(found, fragment());
  for (const request of early) worker.postMessage({ request } satisfies ToWorker);
}

function fragment(): string {
  const text = location.hash.slice(1);
  try {
    return decodeURIComponent(text);
  } catch {
    return text; // a damaged escape: the engine says what it can read
  }
}

// inView are the panels that a person sees now: the engine answers with these first.
function inView(): string[] {
  return [...document.querySelectorAll("[data-panel]")]
    .filter((e) => {
      if (!e.checkVisibility()) return false; // folded away
      const at = e.getBoundingClientRect();
      return at.bottom >= 0 && at.top <= innerHeight;
    })
    .map((e) => e.id);
}

let resting = 0; // the last request for what is out of view; 0 once all is there

function askForRest(): void {
  resting = send({ act: "rest" }, true);
}

// What somebody unfolds or scrolls to while it is not yet up to date comes next.
for (const event of ["toggle", "scrollend"]) {
  document.addEventListener(event, () => resting && askForRest(), { capture: true });
}

// show puts an answer in place. Where the engine had to be started again, what was asked for was not done: that is an
// error like any other.
function show(reply: Reply, restarted?: string): void {
  if (restarted !== undefined) reply.error = fill(state.dataset.restarted, { reason: restarted });
  const step = reply.id < 0;
  if (reply.fresh) for (const form of forms()) form.reset();
  const form = document.getElementById(handed.get(reply.id) ?? "");
  const taken = form instanceof HTMLFormElement && !reply.error;
  if (taken) form.reset();
  handed.delete(reply.id);
  patch(reply.fragments ?? []);
  if (reply.link !== undefined) {
    sentLink = `#${reply.link}`;
    history.replaceState(null, "", sentLink);
  }
  if (reply.error) say(reply.error, "error");
  else if (!step) say(state.dataset.ready ?? "");
  const kept = deals.answered(reply, taken);
  const announcement = reply.error ?? reply.announcement ?? "";
  if (!step || announcement !== lastAnnouncement) element("live").textContent = announcement;
  if (step) lastAnnouncement = announcement;
  const { paper } = reply;
  // a quotation is saved before anybody has it
  if (paper) void Promise.resolve(kept ?? true).then((may) => may && open(paper));
  if (!step) answeredTo = reply.id;
  if (reply.next) goOn(reply.next);
  if (!reply.more) resting = 0;
  else if (!step || !resting || reply.id === resting) askForRest();
  if (!resting) document.documentElement.dataset.answered = String(answeredTo);
}

let lastAnnouncement = "";
let answeredTo = 0; // the last thing that a person did

// goOn asks for the next step of a search. What a person did meanwhile is before it in the worker's queue.
function goOn(key: string): void {
  send({ act: "brief-step", key }, true);
}

window.addEventListener("hashchange", () => {
  if (location.hash !== sentLink) deals.open(undefined, fragment());
});

window.addEventListener("pagehide", () => deals.leave());
window.addEventListener("pageshow", (event) => event.persisted && deals.returned());

// What is typed in a form is kept as it is typed.
document.addEventListener("input", (event) => {
  const e = event.target as HTMLInputElement;
  if (e.form?.dataset.keep !== undefined && !patching) deals.typed();
  if (e.id === "deals-search") deals.list();
});

// What a person does to an element with data-act goes to the engine as it stands there.
function acted(e: HTMLElement): void {
  if (deals.moving) return void deals.moving.then(() => acted(e));
  const { act, slot, option, field, key } = e.dataset;
  if (!act || patching) return;
  const value = "value" in e ? String(e.value) : "";
  if ("value" in e) e.dataset.sent = value;
  send({ act, slot, option, field, key, value, checked: e instanceof HTMLInputElement && e.checked });
}

document.addEventListener("change", (event) => {
  const e = event.target as HTMLElement;
  if (e.dataset.do === "file") void openFile(e as HTMLInputElement);
  else if (e.dataset.do === "deals-file") void deals.takeIn(e as HTMLInputElement);
  else if (e instanceof HTMLInputElement || e instanceof HTMLSelectElement) acted(e);
});

// A control that an answer put back while somebody typed in it has forgotten that it was changed, and reports no
// change.
document.addEventListener("focusout", (event) => {
  const e = event.target as HTMLElement;
  if (e instanceof HTMLInputElement && !e.form && isUnsent(e)) acted(e);
});

document.addEventListener("click", (event) => {
  const e = (event.target as HTMLElement).closest<HTMLElement>("button[data-act], [data-do]");
  if (!e || e instanceof HTMLInputElement) return;
  if (e.dataset.do) done(e.dataset.do, e, event);
  else acted(e);
});

// Control or Command and Z undo the last change of the boat, but never take the browser's own undo from where somebody
// types.
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.shiftKey || event.altKey || event.key.toLowerCase() !== "z") return;
  if (isText(event.target) || document.querySelector("dialog[open]") || !document.getElementById("undo-button")) return;
  event.preventDefault();
  send({ act: "undo" });
});

function isText(target: EventTarget | null): boolean {
  if (target instanceof HTMLInputElement) return !["radio", "checkbox", "file"].includes(target.type);
  return target instanceof HTMLTextAreaElement;
}

// The forms that begin anew once the engine has taken what was in them; what it refuses stays to be corrected.
const handed = new Map<number, string>();

document.addEventListener("submit", (event) => {
  const form = event.target as HTMLFormElement;
  if (form.id === "enquiry" && form.method === "post") deals.posts(form);
  if (form.method === "post") return; // to the yard's own host, by the browser itself
  event.preventDefault();
  if (!form.dataset.act) return;
  const fields: Record<string, string> = {};
  for (const [name, value] of new FormData(form)) fields[name] = String(value);
  if (form.dataset.act === "freeze") return void deals.issue(fields);
  send({ act: form.dataset.act, form: fields });
  if (!["freeze", "brief"].includes(form.dataset.act)) handed.set(count, form.id); // these keep what was typed
});

// What concerns the page and not the boat.
function done(what: string, e: HTMLElement, event: Event): void {
  switch (what) {
    case "go":
      event.preventDefault();
      go(e.dataset.key ?? (e as HTMLAnchorElement).hash.slice(1));
      return;
    case "link":
      void copyLink();
      return;
    case "reset":
      if (confirm(e.dataset.confirm ?? "")) deals.ask({ act: "reset" });
      return;
    case "sheet":
      send({ act: "sheet", value: (element("sheet-shop") as HTMLSelectElement).value });
      return;
    case "print":
      (element("paper-frame") as HTMLIFrameElement).contentWindow?.print();
      return;
    case "close":
      (element("paper") as HTMLDialogElement).close();
      return;
    default:
      if (!deals.done(what, e)) send({ act: what });
  }
}

// go scrolls to a part of the page and puts the focus there, as a link within a document does, without changing the
// address: that is the boat's.
function go(id: string): void {
  const target = element(id);
  target.scrollIntoView({ behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
  if (target.tabIndex < 0) target.tabIndex = -1; // reached by this alone
  target.focus({ preventScroll: true });
}

// A link is the buyer's on every desk: to the public page, which lies beside the others.
function buyersLink(): string {
  return new URL(`./${sentLink}`, location.href).href;
}

async function copyLink(): Promise<void> {
  const link = buyersLink();
  try {
    await navigator.clipboard.writeText(link);
    say(state.dataset.copied ?? "");
  } catch {
    say(link); // no clipboard here: show it to be copied by hand
  }
}

async function openFile(input: HTMLInputElement): Promise<void> {
  const file = input.files?.[0];
  if (!file) return;
  await deals.openFile(await file.text());
  input.value = "";
}

// open shows a paper in its frame, which has no script and a style of its own.
function open(paper: Paper): void {
  element("paper-title").textContent = paper.title;
  (element("paper-frame") as HTMLIFrameElement).srcdoc = paper.html ?? "";
  element("paper-files").replaceChildren(...(paper.files ?? []).map(saveButton));
  (element("paper") as HTMLDialogElement).showModal();
}

// saveButton is a link to a file that is in memory. Those of a paper are given back when its dialog closes.
function saveButton(file: SavedFile): HTMLAnchorElement {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([file.text], { type: `${file.type};charset=utf-8` }));
  link.download = link.textContent = file.name;
  return link;
}

element("paper").addEventListener("close", () => {
  for (const link of element("paper-files").querySelectorAll("a")) URL.revokeObjectURL(link.href);
  element("paper-files").replaceChildren();
});

const here = (name: string) => new URL(name, location.href).href;
worker.postMessage({ start: { engine: here(page.engine), pack: openedPack() ?? here(page.pack) } } satisfies ToWorker);
document.addEventListener("lock", () => worker.terminate());

// After the first visit the page opens without a network.
if ("serviceWorker" in navigator) void navigator.serviceWorker.register("sw.js").catch(() => undefined);
