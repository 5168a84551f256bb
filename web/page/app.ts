// The page's own script: it sends what a person does to the engine and puts the answer in place. It knows nothing of
// boats.
import { Deals, forms } from "./deals";
import { expectHulls, showHull, touched, unfolded } from "./hulls";
import { fill, hideNotice, loadEdition, sayKept, watchEditions } from "./edition";
import { ask, isReady, startEngine, stopEngine } from "./engine";
import { changeLanguage, languageQuery, papersLanguage, remember } from "./language";
import type { Again } from "./engine";
import { enlarge, face, turnTo } from "./pages";
import { isUnsent, patch, patching } from "./patch";
import { openedPack } from "./seal";
import { Solid } from "./solid";
import { VERSION } from "./protocol";
import type { Paper, Reply, Request, SavedFile } from "./protocol";

const state = element("state");
const words = element("edition").dataset; // what is said of the engine and of editions
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

// send gives a request to the engine, and the number of its reply. What nobody did is sent quietly: it is numbered
// below zero, and leaves alone what was said of what a person did.
function send(request: Omit<Request, "v" | "id">, quietly = false): number {
  const id = quietly ? --own : ++count;
  // where another hull was shown meanwhile, the boat that is opened would be seen for a moment only
  const seen = request.act === "open" && touched && !answeredTo ? [] : inView();
  ask({ v: VERSION, id, seen, ...request });
  return id;
}

// answeredAgain takes the first reply of an engine that follows one that stopped. What was handed in then was not
// taken.
function answeredAgain(reply: Reply, again: Again): void {
  handed.clear();
  show(reply);
  const text = fill(again.lost ? state.dataset.restarted : words.resumed, { reason: again.reason });
  say(text, again.lost ? "error" : "note");
  element("live").textContent = text;
}

// coming tells how much of the engine is there: on a slow line a person waits for it. By quarters, since who listens to
// the page hears it each time.
let quarter = 0;
function coming(got: number, total: number): void {
  const now = total > 0 ? Math.floor((4 * got) / total) : 0;
  if (now === quarter || touched) return;
  quarter = now;
  const kB = (n: number) => Math.round(n / 1000).toLocaleString(document.documentElement.lang);
  say(fill(state.dataset.coming, { got: kB(got), total: kB(total) }));
}

// keepEdition has what the page needs kept on this device, once the line has brought it: on a slow one each file is
// waited for. A page whose files are gone finds a new edition in the same way.
let keeping = false;
function keepEdition(): void {
  if (!keeping) void watchEditions();
  keeping = true;
  performance.mark("answered");
}

// The reason is of the browser or the host, in its words: it is for whoever is called to help.
function failed(file: string, reason: string): void {
  say(fill(file ? words.missing : words.stopped, { file, reason }), "error");
  keepEdition();
}

const solid = new Solid(go, () => askForRest());

// The records of this device. What the store finds is there by the time that the engine is.
const deals = new Deals(send, say, buyersLink);

function fragment(): string {
  const text = location.hash.slice(1);
  try {
    return decodeURIComponent(text);
  } catch {
    return text; // a damaged escape: the engine says what it can read
  }
}

// inView are the panels that a person sees now: the engine answers with these first. A still picture that the canvas is
// about to take the place of is not waited for.
function inView(): string[] {
  return [...document.querySelectorAll("[data-panel]")]
    .filter((e) => {
      if (!e.checkVisibility() || e.matches(".live > #still")) return false; // folded away, or about to be
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

document.addEventListener("toggle", (event) => {
  const e = event.target as HTMLElement;
  if (!answeredTo && e.matches("details.slot[open]")) void unfolded(e, () => answeredTo > 0);
}, { capture: true });

function show(reply: Reply): void {
  const step = reply.id < 0;
  if (reply.fresh) for (const form of forms()) form.reset();
  const form = document.getElementById(handed.get(reply.id) ?? "");
  const taken = form instanceof HTMLFormElement && !reply.error;
  if (taken) form.reset();
  handed.delete(reply.id);
  if (reply.frame) {
    changeLanguage(reply.frame);
    deals.sayAgain();
    sayKept();
  }
  patch(reply.fragments ?? []);
  if (reply.frame) solid.name();
  solid.refresh();
  arrive();
  // what follows by itself must not take away another link that was put into the address meanwhile
  if (reply.link !== undefined && !(step && sentLink === `#${reply.link}`)) {
    sentLink = `#${reply.link}`;
    history.replaceState(null, "", location.search + sentLink);
  }
  if (reply.beside !== undefined) keepBeside(reply.beside);
  if (reply.error) say(reply.error, "error");
  else if (!step && !state.dataset.missing) say(state.dataset.ready ?? "");
  const kept = deals.answered(reply, taken);
  const announcement = reply.error ?? reply.announcement ?? "";
  if (!step || announcement !== lastAnnouncement) element("live").textContent = announcement;
  if (step) lastAnnouncement = announcement;
  const { paper } = reply;
  // a quotation is saved before anybody has it
  if (paper) void Promise.resolve(kept ?? true).then((may) => may && open(paper));
  if (!step && !answeredTo) keepEdition();
  if (!step) answeredTo = reply.id;
  if (reply.next) goOn(reply.next);
  if (!reply.more) resting = 0;
  else if (!step || !resting || reply.id === resting) askForRest();
  if (!resting) document.documentElement.dataset.answered = String(answeredTo);
}

let lastAnnouncement = "";
let answeredTo = 0; // the last thing that a person did

// The boats that are compared stay for as long as the tab does, also where its engine is started again.
const BESIDE = "beside";

function keepBeside(links: string): void {
  try {
    sessionStorage.setItem(BESIDE, links);
  } catch {
    // no storage here: they stay until the page is left
  }
}

function setBeside(): void {
  try {
    const text = sessionStorage.getItem(BESIDE);
    if (text) send({ act: "beside-open", text }, true);
  } catch {
    // likewise
  }
}

// goOn asks for the next step of a search. What a person did meanwhile is before it in the worker's queue.
function goOn(key: string): void {
  send({ act: "brief-step", key }, true);
}

window.addEventListener("hashchange", () => {
  if (location.hash !== sentLink) deals.during(deals.open(undefined, fragment()));
});

window.addEventListener("pagehide", () => deals.leave());
window.addEventListener("pageshow", (event) => event.persisted && deals.returned());

// What is typed in a form is kept as it is typed.
document.addEventListener("input", (event) => {
  const e = event.target as HTMLInputElement;
  if (e.form?.dataset.keep !== undefined && !patching) deals.typed();
  if (e.id === "deals-search") deals.list();
  if (e.dataset.live !== undefined) {
    clearTimeout(typing);
    typing = setTimeout(() => e.value !== (e.dataset.sent ?? "") && acted(e), 150);
  }
});

let typing = 0; // where an answer is wanted while somebody types: not before each letter, but soon

// What a person does to an element with data-act goes to the engine as it stands there.
function acted(e: HTMLElement): void {
  const { act, slot, option, field, key } = e.dataset;
  if (!act || patching) return;
  const value = "value" in e ? String(e.value) : "";
  if (act === "units") remember("units", value);
  if ("value" in e) e.dataset.sent = value;
  if (deals.moving) return void deals.moving.then(() => acted(e));
  if (act === "hull" && !answeredTo && showHull(value)) say(state.dataset.early ?? "");
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

// What cannot be had is marked by aria-disabled, so that it is reached and its reason is read; it is held back here.
document.addEventListener("click", (event) => {
  if (!(event.target as HTMLElement).closest("[aria-disabled=true]")) return;
  event.preventDefault();
  event.stopImmediatePropagation();
}, { capture: true });

document.addEventListener("click", (event) => {
  const e = (event.target as HTMLElement).closest<HTMLElement>("button[data-act], [data-do]");
  if (!e || e instanceof HTMLInputElement) return;
  if (e.dataset.do) done(e.dataset.do, e, event);
  else acted(e);
});

// Control or Command and Z undo the last change of the boat, with Shift or with Y it is done again, but never take the
// browser's own undo from where somebody types.
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const act = key === "y" || (key === "z" && event.shiftKey) ? "redo" : key === "z" ? "undo" : "";
  if (!act || isText(event.target) || document.querySelector("dialog[open]")) return;
  if (!document.getElementById(`${act}-button`)) return;
  event.preventDefault();
  send({ act });
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
  // what was filled in is of the record before, and would be handed in for another boat
  if (!form.dataset.act || deals.moving) return;
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
      wanted = e.dataset.then ?? "";
      arrive();
      return;
    case "language":
      remember("language", e.dataset.key ?? "");
      // before the engine is there the link leads to the page in that language, which is there at once; a desk that was
      // unsealed would be locked by that
      if (!isReady() && !document.body.dataset.sealed) return;
      event.preventDefault();
      send({ act: "language", value: e.dataset.key });
      return;
    case "specification":
      send({ act: "specification", value: papersLanguage() });
      return;
    case "face":
      e.setAttribute("aria-pressed", String(face()));
      return;
    case "view":
      enlarge(e.dataset.key ?? "");
      if (resting) askForRest();
      return;
    case "edition":
      void deals.settled().then(loadEdition);
      return;
    case "edition-later":
      hideNotice();
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
  const target = document.getElementById(id);
  if (!target) return; // of a hull that was touched before the engine was there
  turnTo(target);
  if (resting) askForRest();
  target.scrollIntoView({ behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
  if (target.tabIndex < 0) target.tabIndex = -1; // reached by this alone
  target.focus({ preventScroll: true });
}

let wanted = ""; // where somebody goes, which may not be on the page until its panel has come

function arrive(): void {
  if (!wanted || !document.getElementById(wanted)?.checkVisibility()) return;
  const target = element(wanted);
  wanted = "";
  target.scrollIntoView({ block: "center" });
  target.focus({ preventScroll: true });
}

// A link is the buyer's on every desk: to the public page, which lies beside the others, in the customer's language
// where there is a choice of it.
function buyersLink(): string {
  return new URL(`./${languageQuery()}${sentLink}`, location.href).href;
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
  const opening = file.text().then((text) => deals.openFile(text));
  deals.during(opening);
  await opening;
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
  const blob = file.base64
    ? new Blob([Uint8Array.from(atob(file.text), (c) => c.charCodeAt(0))], { type: file.type })
    : new Blob([file.text], { type: `${file.type};charset=utf-8` });
  link.href = URL.createObjectURL(blob);
  link.download = link.textContent = file.name;
  return link;
}

element("paper").addEventListener("close", () => {
  for (const link of element("paper-files").querySelectorAll("a")) URL.revokeObjectURL(link.href);
  element("paper-files").replaceChildren();
});

// The engine begins with the record of this tab, or what the address names, before anything that was done meanwhile;
// one that is started again with what this tab has now.
let begun = false; // the engine has answered once
let found: ReturnType<Deals["begin"]> | undefined;
startEngine({
  first: async () => {
    found ??= deals.begin();
    const record = await found;
    return () => void deals.open(record, fragment());
  },
  again: () => deals.openAgain(),
  reply: (reply, again) => {
    if (again) answeredAgain(reply, again);
    else show(reply);
    if (again || !begun) setBeside();
    begun = true;
  },
  failed,
  coming,
}, openedPack());
void expectHulls();
document.addEventListener("lock", stopEngine);
