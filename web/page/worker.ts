// The worker holds the engine. It inflates engine and pack itself, so that any static host serves the small form, and
// starts the engine anew if it ever dies.
import "go-wasm-exec";
import { VERSION } from "./protocol";
import { verdict } from "./signature";
import type { Key } from "./signature";
import type { FromWorker, Reply, Request, Start, ToWorker } from "./protocol";

declare class Go {
  importObject: WebAssembly.Imports;
  run(instance: WebAssembly.Instance): Promise<void>;
}
declare function ribbandEngine(message: Uint8Array | string): string;
declare function postMessage(message: FromWorker): void;

let module: WebAssembly.Module;
let pack: Uint8Array;
let lastSpec = ""; // as answered last: what a program that is started again begins with

// fetched gives the bytes behind an address, inflated where they are gzip: some hosts inflate by themselves.
async function fetched(address: string): Promise<Uint8Array> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${address}: ${response.status} ${response.statusText}`);
  const bytes = new Uint8Array(await response.arrayBuffer());
  if (bytes[0] !== 0x1f || bytes[1] !== 0x8b) return bytes;
  const inflated = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Uint8Array(await new Response(inflated).arrayBuffer());
}

// start loads engine and book at the same time. The compiled module is kept: a program of it that died is started again
// without a network.
async function start(s: Start): Promise<void> {
  const pending = typeof s.pack === "string" ? fetched(s.pack) : s.pack;
  const [code, book] = await Promise.all([fetched(s.engine), pending]);
  module = await WebAssembly.compile(code as BufferSource);
  pack = book;
  await boot();
}

// boot runs the program, which puts ribbandEngine into this worker's global scope before it waits, and gives it the
// book. The program's own promise is fulfilled only when it ends, so nobody waits for that.
async function boot(): Promise<void> {
  const go = new Go();
  const instance = await WebAssembly.instantiate(module, go.importObject);
  void go.run(instance);
  const reply = JSON.parse(ribbandEngine(pack)) as Reply;
  if (reply.error) throw new Error(reply.error);
}

// keys are the yard's, by which quotations are verified.
let known: Key[] | undefined;
function keys(): Key[] {
  known ??= (JSON.parse(new TextDecoder().decode(pack)) as { signing_keys?: Key[] }).signing_keys ?? [];
  return known;
}

// answer asks the engine. A fault ends its program; the page is to stay with the boat that was answered last, and a
// person to be told that the last change was not done.
async function answer(request: Request): Promise<{ reply: Reply; restarted?: string }> {
  if (request.act === "file") request.signature = await verdict(request.text ?? "", keys());
  try {
    const reply = JSON.parse(ribbandEngine(JSON.stringify(request))) as Reply;
    if (reply.spec) lastSpec = reply.spec;
    return { reply };
  } catch (fault) {
    await boot();
    const open = JSON.stringify({ v: VERSION, id: request.id, act: "open", text: lastSpec });
    return { reply: JSON.parse(ribbandEngine(open)) as Reply, restarted: String(fault) };
  }
}

// Requests are answered in their order, one at a time.
let queue: Promise<void> = Promise.resolve();
self.onmessage = (event: MessageEvent<ToWorker>) => {
  const message = event.data;
  queue = queue.then(async () => {
    try {
      if ("start" in message) {
        await start(message.start);
        postMessage({ ready: true });
      } else {
        postMessage(await answer(message.request));
      }
    } catch (fault) {
      postMessage({ failed: String(fault) });
    }
  });
};
