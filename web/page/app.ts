// The page's own script: it sends what a person does to the engine and puts the answer in place. It knows nothing of
// boats.
import { changed, fill, hideNotice, loadEdition, watchEditions } from "./edition";
import { ask, startEngine } from "./engine";
import type { Again } from "./engine";
import { keep, listAside, recall, setAside, takeAside } from "./kept";
import type { Kept } from "./kept";
import { isTyped, isUnsent, patch, patching } from "./patch";
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

// send numbers what a person did upwards; until the engine is there it waits in order.
function send(request: Omit<Request, "v" | "id">, id = ++count): void {
  ask({ v: VERSION, id, seen: inView(), ...request });
}

// answeredAgain takes the first reply of an engine that follows one that stopped. What was handed in then was not
// taken.
function answeredAgain(reply: Reply, again: Again): void {
  handed.clear();
  if (again.lost) reply.error = fill(state.dataset.restarted, { reason: again.reason });
  show(reply);
  if (!again.lost) say(fill(words.resumed, { reason: again.reason }));
}

function failed(file: string, reason: string): void {
  say(fill(file ? words.missing : words.stopped, { file, reason }), "error");
}

function fragment(): string {
  const text = location.hash.slice(1);
  try {
    return decodeURIComponent(text);
  } catch {
    return text; // a damaged escape: the engine says what it can read
  }
}

// What this tab has now: the boat that was answered last, and what stands in the form that is kept.
let answered: { spec: string; plain: boolean } | undefined;

const keptForm = (): HTMLFormElement | null => document.querySelector("form[data-keep]");

function present(): Omit<Kept, "owner"> | undefined {
  if (!answered) return undefined;
  const form: Record<string, string> = {};
  const kept = keptForm();
  if (kept) for (const [name, value] of new FormData(kept)) form[name] = String(value);
  const bar = element("bar").querySelector(".name")?.textContent;
  const total = element("total").textContent ?? "";
  const name = [bar, total, form["number"], form["name"]].filter(Boolean).join(", ");
  return { name, form, total, edition: document.body.dataset.book, ...answered };
}

// keepPresent is called after each answer and each key in the form: a tab may be closed at any moment.
function keepPresent(): void {
  const now = present();
  if (now) keep(now);
}

// The record that each request to open something is about: where the answer says that another boat is shown, it is set
// aside; else its form is filled in again.
const opened = new Map<number, Kept>();

function opening(record: Kept | undefined, link: string): void {
  send({ act: "open", link, text: record?.spec });
  if (record) opened.set(count, record);
}

// refill puts the form of a record back, but never over what somebody has typed since.
function refill(form: Record<string, string>): void {
  for (const [name, value] of Object.entries(form)) {
    const control = keptForm()?.elements.namedItem(name);
    const field = control instanceof HTMLInputElement || control instanceof HTMLTextAreaElement;
    if (field && !isTyped(control)) control.value = value;
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

// The steps of a search, and what is out of view, are asked for here and not by a person: they leave alone what was
// said of what a person did, and are numbered below zero.
let resting = 0; // the last request for what is out of view; 0 once all is there

function askForRest(): void {
  send({ act: "rest" }, --own);
  resting = own;
}

// What somebody unfolds or scrolls to while it is not yet up to date comes next.
for (const event of ["toggle", "scrollend"]) {
  document.addEventListener(event, () => resting && askForRest(), { capture: true });
}

function show(reply: Reply): void {
  const step = reply.id < 0;
  const record = opened.get(reply.id);
  opened.delete(reply.id);
  if (reply.apart && record) setAside(record);
  if (reply.fresh) keptForm()?.reset();
  const form = document.getElementById(handed.get(reply.id) ?? "");
  if (form instanceof HTMLFormElement && !reply.error) form.reset();
  handed.delete(reply.id);
  patch(reply.fragments ?? []);
  if (record && !reply.apart) {
    refill(record.form);
    former = record;
  }
  if (reply.link !== undefined) {
    sentLink = `#${reply.link}`;
    history.replaceState(null, "", sentLink);
  }
  if (reply.spec) {
    answered = { spec: reply.spec, plain: reply.plain ?? false };
    keepPresent();
  }
  if (record) showAside();
  if (reply.error) say(reply.error, "error");
  else if (!step && !state.dataset.missing) say(state.dataset.ready ?? "");
  const announcement = reply.error ?? reply.announcement ?? "";
  if (!step || announcement !== lastAnnouncement) element("live").textContent = announcement;
  if (step) lastAnnouncement = announcement;
  if (reply.paper) open(reply.paper);
  if (!step) answeredTo = reply.id;
  if (reply.next) goOn(reply.next);
  if (!reply.more) resting = 0;
  else if (!step || !resting || reply.id === resting) askForRest();
  if (!resting && former) compare(former);
  if (!resting) former = undefined;
  if (!resting) document.documentElement.dataset.answered = String(answeredTo);
}

// compare says what another edition of the price book made of a boat that was kept under the one before.
function compare(record: Kept): void {
  if (!record.edition || record.edition === document.body.dataset.book) return;
  changed(record.total ?? "", element("total").textContent ?? "");
}

let former: Kept | undefined; // the record that was opened, until all of the page is up to date

let lastAnnouncement = "";
let answeredTo = 0; // the last thing that a person did

// goOn asks for the next step of a search. What a person did meanwhile is before it in the worker's queue.
function goOn(key: string): void {
  send({ act: "brief-step", key }, --own);
}

window.addEventListener("hashchange", () => {
  if (location.hash === sentLink) return;
  const now = present();
  send({ act: "open", link: fragment() });
  if (now) opened.set(count, { owner: "", ...now });
});

// What is typed in the quotation's form is kept as it is typed.
document.addEventListener("input", (event) => {
  const e = event.target as HTMLInputElement;
  if (e.form?.dataset.keep !== undefined) keepPresent();
});

// The boats that were set aside, to be opened again, saved or deleted.
function showAside(): void {
  const place = element("aside");
  const titles = place.dataset;
  const list = listAside();
  place.hidden = list.length === 0;
  element("aside-list").replaceChildren(
    ...list.map((record, i) => {
      const item = document.createElement("li");
      const button = (what: string, title: string | undefined): HTMLButtonElement => {
        const b = document.createElement("button");
        b.type = "button";
        b.dataset.do = what;
        b.dataset.key = String(i);
        b.textContent = title ?? "";
        b.setAttribute("aria-label", fill(titles.label, { act: b.textContent, boat: record.name }));
        return b;
      };
      const name = document.createElement("span");
      name.textContent = record.name;
      const save = saveButton({ name: titles.file ?? "", type: "application/json", text: record.spec });
      save.textContent = titles.save ?? "";
      item.append(name, button("aside-open", titles.open), save, button("aside-drop", titles.drop));
      return item;
    }),
  );
}

// openAside changes places: what is shown now goes to the list.
function openAside(index: number): void {
  const now = present();
  const record = takeAside(index);
  if (!record) return;
  if (now) setAside({ owner: "", ...now });
  keptForm()?.reset();
  opening(record, "");
}

// What a person does to an element with data-act goes to the engine as it stands there.
function acted(e: HTMLElement): void {
  const { act, slot, option, field, key } = e.dataset;
  if (!act || patching) return;
  const value = "value" in e ? String(e.value) : "";
  if ("value" in e) e.dataset.sent = value;
  send({ act, slot, option, field, key, value, checked: e instanceof HTMLInputElement && e.checked });
}

document.addEventListener("change", (event) => {
  const e = event.target as HTMLElement;
  if (e.dataset.do === "file") void openFile(e as HTMLInputElement);
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
  if (!e || e.dataset.do === "file") return;
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
  if (!form.dataset.act) return;
  event.preventDefault();
  const fields: Record<string, string> = {};
  for (const [name, value] of new FormData(form)) fields[name] = String(value);
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
    case "aside-open":
      openAside(Number(e.dataset.key));
      return;
    case "aside-drop":
      if (confirm(element("aside").dataset.confirm ?? "")) takeAside(Number(e.dataset.key));
      showAside();
      return;
    case "edition":
      keepPresent();
      loadEdition();
      return;
    case "edition-later":
      hideNotice();
      return;
    case "link":
      void copyLink();
      return;
    case "reset":
      if (confirm(e.dataset.confirm ?? "")) send({ act: "reset" });
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
      send({ act: what });
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
async function copyLink(): Promise<void> {
  const link = new URL(`./${sentLink}`, location.href).href;
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
  send({ act: "file", text: await file.text() });
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

startEngine({
  ready: () => opening(recall(), fragment()),
  reply: (reply, again) => (again ? answeredAgain(reply, again) : show(reply)),
  failed,
  inView,
});
void watchEditions();
