// The engine as the page sees it: a worker that answers requests in their order. One that dies, hangs or runs out of
// memory is put away, and another opens the record of this tab where it was: boat, customer, quotation and undo.
import type { FromWorker, Reply, Request, Start, ToWorker } from "./protocol";

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

const page = document.getElementById("engine")!.dataset as { worker: string; engine: string };

// Begun is the first worker as the script in the page's head started it, and what that heard of it.
interface Begun {
  worker: Worker;
  start: Start;
  heard: Event[];
}
declare const engineBegun: Begun | undefined; // only global where the desk is not sealed
declare function beginEngine(pack?: Uint8Array): Begun;

let listener: Listener;
let worker: Worker;
let start: Start;
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
  const begun = opened ? beginEngine(opened) : engineBegun!;
  starts = 1;
  start = begun.start;
  listen(begun.worker);
  for (const event of begun.heard) begun.worker[event.type === "error" ? "onerror" : "onmessage"]!(event as never);
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
  listen(new Worker(page.worker));
  worker.postMessage({ start } satisfies ToWorker);
}

function listen(to: Worker): void {
  worker = to;
  worker.onmessage = (event: MessageEvent<FromWorker>) => heard(event.data);
  worker.onerror = (event) => {
    event.preventDefault();
    if (event.message) restart(event.message);
    else void workerMissing();
  };
}

// keptHere notes that this device has kept the engine, so that head.js need not ask for it.
function keptHere(): void {
  try {
    const { pathname } = new URL(page.engine, location.href); // as in head.js, without the digest
    localStorage.setItem(`ribband-engine ${pathname.replace(/-[^-]*$/, "")}`, pathname);
  } catch {
    // no storage here: it is asked for each time, and not read where the cache has it
  }
}

// workerMissing asks why the worker's own script did not come: the browser does not say.
async function workerMissing(): Promise<void> {
  const address = new URL(page.worker, location.href).href;
  const reason = await fetch(address).then((r) => `${r.status} ${r.statusText}`.trim(), String);
  fail(new URL(address).pathname, reason);
}

function heard(message: FromWorker): void {
  missed = 0;
  if ("ready" in message) {
    start = message.ready; // started again it asks nothing of the network, but for the words of a language
    keptHere();
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
