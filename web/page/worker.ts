// The worker holds the engine. It inflates engine and pack itself, so that any static host serves the small form, and
// checks each against the digest in its name. It answers every ping at once, so that the page knows it lives, and says
// when the engine has stopped: the page then starts another worker, which frees what this one held of memory.
import "go-wasm-exec";
import { verdict } from "./signature";
import type { Key } from "./signature";
import type { FromWorker, Reply, Request, Start, ToWorker } from "./protocol";

declare class Go {
  importObject: WebAssembly.Imports;
  run(instance: WebAssembly.Instance): Promise<void>;
}
declare function ribbandEngine(...message: (Uint8Array | string)[]): string;
declare function postMessage(message: FromWorker): void;

// Missing is a file that the host does not have, or not as it was published.
class Missing extends Error {
  constructor(
    readonly file: string,
    reason: string,
  ) {
    super(reason);
  }
}

// fetched gives the bytes behind an address, inflated where they are gzip: some hosts inflate by themselves.
async function fetched(address: string): Promise<Uint8Array> {
  let bytes: Uint8Array;
  try {
    const response = await fetch(address);
    if (!response.ok) throw new Error(`${response.status} ${response.statusText}`.trim());
    bytes = new Uint8Array(await response.arrayBuffer());
    if (bytes[0] === 0x1f && bytes[1] === 0x8b) {
      const inflated = new Blob([bytes as BufferSource]).stream().pipeThrough(new DecompressionStream("gzip"));
      bytes = new Uint8Array(await new Response(inflated).arrayBuffer());
    }
    await checked(address, bytes);
  } catch (fault) {
    throw new Missing(new URL(address).pathname, fault instanceof Error ? fault.message : String(fault));
  }
  return bytes;
}

// checked compares bytes with the digest in the name of their file. A page without TLS has no digests to compare by.
async function checked(address: string, bytes: Uint8Array): Promise<void> {
  const want = /-([0-9a-f]{12})\.[^/]*$/.exec(address)?.[1];
  if (!want || !globalThis.crypto?.subtle) return;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes as BufferSource));
  const got = [...digest.subarray(0, 6)].map((b) => b.toString(16).padStart(2, "0")).join("");
  if (got !== want) throw new Error(`damaged: ${got}`);
}

let book = new Uint8Array();

// keys are the yard's, by which quotations are verified.
let known: Key[] | undefined;
function keys(): Key[] {
  known ??= (JSON.parse(new TextDecoder().decode(book)) as { signing_keys?: Key[] }).signing_keys ?? [];
  return known;
}

// words are where those of each language are, by its tag: the program's, and those of the book where they are not in
// the pack.
let words: Record<string, string[]> = {};
const wordsOf = (language: string): Promise<Uint8Array[]> => Promise.all((words[language] ?? []).map(fetched));

// A request that needs a language which the engine has not heard yet is asked once more when it has, or when its words
// could not be had.
async function answer(request: Request): Promise<Reply> {
  if (request.act === "file") request.signature = await verdict(request.text ?? "", keys());
  const reply = JSON.parse(ribbandEngine(JSON.stringify(request))) as Reply;
  if (!reply.needs || request.unspoken) return reply;
  try {
    if (!words[reply.needs]) throw new Error(reply.needs);
    learnt(ribbandEngine(...(await wordsOf(reply.needs))));
  } catch (fault) {
    request.unspoken = fault instanceof Error ? fault.message : String(fault);
  }
  return answer(request);
}

function learnt(text: string): void {
  const { error } = JSON.parse(text) as Reply;
  if (error) throw new Error(error);
}

async function start(s: Start): Promise<void> {
  const { compile } = WebAssembly;
  words = s.words;
  const [engine, pack, spoken] = await Promise.all([
    typeof s.engine === "string" ? fetched(s.engine).then((code) => compile(code as BufferSource)) : s.engine,
    typeof s.pack === "string" ? fetched(s.pack) : s.pack,
    wordsOf(s.language),
  ]);
  book = new Uint8Array(pack);
  const go = new Go();
  const instance = await WebAssembly.instantiate(engine, go.importObject);
  void go.run(instance);
  learnt(ribbandEngine(pack, ...spoken));
  postMessage({ ready: { ...s, engine, pack } });
}

// The last that the engine said is the best reason there is for its end.
let said = "";
const log = console.log;
console.log = (...words: unknown[]) => {
  said ||= String(words[0]).split("\n").find((line) => line.trim() !== "") ?? "";
  log(...words);
};

// Requests are answered in their order, one at a time. An engine that has stopped answers nothing more.
let queue: Promise<void> = Promise.resolve();
let stopped = false;
self.onmessage = (event: MessageEvent<ToWorker>) => {
  const message = event.data;
  if ("ping" in message) return postMessage({ alive: true });
  queue = queue.then(async () => {
    if (stopped) return;
    try {
      if ("start" in message) await start(message.start);
      else postMessage({ reply: await answer(message.request) });
    } catch (fault) {
      stopped = true;
      if (fault instanceof Missing) postMessage({ missing: fault.file, reason: fault.message });
      else postMessage({ fault: said || String(fault) });
    }
  });
};
