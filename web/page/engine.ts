// The engine as the page sees it: a worker that answers requests in their order. One that dies, hangs or runs out of
// memory is put away, and another opens the record of this tab where it was: boat, customer, quotation and undo.
import type { Coming, FromWorker, Reply, Request, Start, ToWorker } from "./protocol";

export interface Listener {
  first(): Promise<() => void>; // gives what opens the page's boat, before anything else is asked
  again(): void; // opens it once more
  reply(reply: Reply, again?: Again): void;
  failed(file: string, reason: string): void; // there is no engine
  coming(got: number, total: number): void; // bytes of the engine; of how many, or 0
}

// Again goes with the first reply of another engine: why the one before stopped, and whether what a person did is lost.
export interface Again {
  reason: string;
  lost: boolean;
}

// A beat without a sign of life is missed; so many in a row make a worker dead. Beats are counted and not timed: a page
// that was asleep has missed none.
const beat = 2000;
const mostMissed = 10;
const mostStarts = 3; // in a row, without an answer in between

const page = document.body.dataset as { worker: string; engine: string; pack: string };
const here = (name: string) => new URL(name, location.href).href;

// wordFiles are where the page says that the words of its languages are, which the engine does not have in itself.
function wordFiles(): Record<string, string[]> {
  const found: Record<string, string[]> = {};
  for (const { name, value } of document.body.attributes) {
    const language = /^data-(?:words|book)-(.+)$/.exec(name)?.[1];
    if (language) (found[language] ??= []).push(here(value));
  }
  return found;
}

let listener: Listener;
let worker: Worker;
let start: Start = { engine: here(page.engine), pack: "", language: document.documentElement.lang, words: wordFiles() };
let ready = false;
let missed = 0;
let starts = 0;
let waiting: Request[] = []; // what was asked before the engine was there
let sent: Request[] = []; // and not answered yet, in their order
let answered = false; // anything, by any engine
let again: Again | undefined; // for the next reply

// startEngine begins with the page's pack, or with one that was sealed and is in memory alone.
export function startEngine(to: Listener, opened?: Uint8Array): void {
  listener = to;
  start.pack = opened ?? here(page.pack);
  launch();
  setInterval(check, beat);
}

// stopEngine ends it for good, with all that it knows.
export function stopEngine(): void {
  starts = mostStarts + 1;
  worker.terminate();
  start.pack = "";
}

// isReady says that what is asked now is answered now.
export const isReady = (): boolean => ready;

export function ask(request: Request): void {
  if (!ready) {
    waiting.push(request);
    return;
  }
  sent.push(request);
  worker.postMessage({ request } satisfies ToWorker);
}

function launch(): void {
  starts++;
  missed = 0;
  worker = new Worker(page.worker);
  worker.onmessage = (event: MessageEvent<FromWorker>) => heard(event.data);
  worker.onerror = (event) => {
    event.preventDefault();
    if (event.message) restart(event.message);
    else void workerMissing();
  };
  const mine = worker;
  void asked().then((coming) => {
    if (mine !== worker) return;
    try {
      worker.postMessage({ start, coming } satisfies ToWorker, coming ? [coming.body] : []);
    } catch {
      worker.postMessage({ start } satisfies ToWorker); // streams cannot be handed on in this browser
    }
  });
}

// asked is the engine as it comes, where the head of the page has asked for it. That is the page's alone: only this
// script is given what came of it. Otherwise the worker asks, and says what is wrong with a file that does not come.
let asking = localKept() !== page.engine;
async function asked(): Promise<Coming | undefined> {
  if (!asking) return undefined;
  asking = false;
  try {
    const { ok, body, headers } = await fetch(here(page.engine));
    return ok && body ? { body, total: Number(headers.get("Content-Length")) } : undefined;
  } catch {
    return undefined;
  }
}

// localKept is the engine that this device has kept, as far as it is known without asking a cache; told sets it.
function localKept(told?: string): string {
  const name = `ribband-engine ${new URL(".", location.href).pathname}`; // as in watch.js
  try {
    if (told) localStorage.setItem(name, told);
    return localStorage.getItem(name) ?? "";
  } catch {
    return "";
  }
}

// workerMissing asks why the worker's own script did not come: the browser does not say.
async function workerMissing(): Promise<void> {
  const address = here(page.worker);
  const reason = await fetch(address).then((r) => `${r.status} ${r.statusText}`.trim(), String);
  fail(new URL(address).pathname, reason);
}

function heard(message: FromWorker): void {
  missed = 0;
  if ("ready" in message) {
    start = message.ready; // started again it asks nothing of the network, but for the words of a language
    localKept(page.engine);
    void begin();
  } else if ("got" in message) {
    listener.coming(message.got, message.total);
  } else if ("missing" in message) {
    fail(message.missing, message.reason);
  } else if ("fault" in message) {
    restart(message.fault);
  } else if ("reply" in message) {
    starts = 0;
    answered = true;
    if (message.reply.frame) start.language = message.reply.frame.language;
    sent.shift();
    const after = again;
    again = undefined;
    listener.reply(message.reply, after);
  }
}

// begin opens the page's boat, then asks what was asked meanwhile.
async function begin(): Promise<void> {
  const mine = worker;
  const open = answered ? () => listener.again() : await listener.first();
  if (mine !== worker) return; // it stopped meanwhile
  ready = true;
  const later = waiting;
  waiting = [];
  open();
  later.forEach(ask);
}

function check(): void {
  if (missed < mostMissed) {
    missed++;
    worker.postMessage({ ping: true } satisfies ToWorker);
  } else if (starts <= mostStarts) {
    restart(`no answer in ${(beat * mostMissed) / 1000} s`);
  }
}

// restart puts the worker away and starts another. What it was at is not asked again, since that may have stopped it;
// what came after is.
function restart(reason: string): void {
  worker.terminate();
  ready = false;
  const lost = sent.shift();
  waiting = [...sent, ...waiting];
  sent = [];
  if (answered) again = { reason, lost: Boolean(again?.lost) || (lost?.id ?? 0) > 0 };
  if (starts >= mostStarts) fail("", reason);
  else launch();
}

function fail(file: string, reason: string): void {
  starts = mostStarts + 1; // for good: only a person loads the page again
  listener.failed(file, reason);
}
