// The engine as the page sees it: a worker that answers requests in their order. One that dies, hangs or runs out of
// memory is put away, and another takes up the session where it was: boat, customer, quotation and undo.
import { VERSION } from "./protocol";
import type { FromWorker, Reply, Request, Start, ToWorker } from "./protocol";

export interface Listener {
  ready(): void; // the first time
  reply(reply: Reply, again?: Again): void;
  failed(file: string, reason: string): void; // there is no engine
  inView(): string[]; // the panels that are shown again first
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

let listener: Listener;
let worker: Worker;
let start: Start = { engine: here(page.engine), pack: here(page.pack) };
let ready = false;
let missed = 0;
let starts = 0;
let waiting: Request[] = []; // what was asked before the engine was there
let sent: Request[] = []; // and not answered yet, in their order
const session: { spec?: string; now?: string; past: string[] } = { past: [] };

export function startEngine(to: Listener): void {
  listener = to;
  launch();
  setInterval(check, beat);
}

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
  worker.postMessage({ start } satisfies ToWorker);
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
    start = message.ready; // started again it asks nothing of the network
    begin();
  } else if ("missing" in message) {
    fail(message.missing, message.reason);
  } else if ("fault" in message) {
    restart(message.fault);
  } else if ("reply" in message) {
    starts = 0;
    const restored = sent.shift()?.act === "restore";
    remember(message.reply);
    listener.reply(message.reply, restored ? again : undefined);
  }
}

// begin opens the page's boat the first time, and takes the session up every further time.
function begin(): void {
  ready = true;
  const later = waiting;
  waiting = [];
  if (session.spec === undefined) {
    listener.ready();
  } else {
    const { spec: text, now, past } = session;
    ask({ v: VERSION, id: resumed, act: "restore", text, now, past, seen: listener.inView() });
  }
  later.forEach(ask);
}

// The reply to a session that was taken up answers what was lost, or nothing that a person did.
let resumed = 0;
let again: Again;

// remember holds what the next engine would need.
function remember(reply: Reply): void {
  if (!reply.spec) return;
  const steps = reply.steps ?? 0;
  session.spec = reply.spec;
  session.now = reply.now;
  if (reply.back) session.past = [...session.past, reply.back].slice(-steps);
  else session.past.length = Math.min(steps, session.past.length);
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
  resumed = lost?.id ?? -1;
  again = { reason, lost: resumed > 0 };
  if (starts >= mostStarts) fail("", reason);
  else launch();
}

function fail(file: string, reason: string): void {
  starts = mostStarts + 1; // for good: only a person loads the page again
  listener.failed(file, reason);
}
