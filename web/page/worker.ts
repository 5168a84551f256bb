// The worker holds the engine. It inflates engine and pack itself, so that any static host serves the small form, and
// checks each against the digest in its name. It answers every ping at once, so that the page knows it lives, and says
// when the engine has stopped: the page then starts another worker, which frees what this one held of memory.
import "go-wasm-exec";
import { verdict } from "./signature";
import { Line, unpack } from "./unpack";
import type { Key } from "./signature";
import type { Coming, FromWorker, Reply, Request, Start, ToWorker } from "./protocol";

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
async function fetched(address: string, coming?: Coming): Promise<Uint8Array> {
  let bytes: Uint8Array;
  try {
    bytes = await inflated(coming ? new Response(coming.body) : await asked(address));
    await checked(address, bytes);
  } catch (fault) {
    throw new Missing(new URL(address).pathname, fault instanceof Error ? fault.message : String(fault));
  }
  return bytes;
}

async function asked(address: string): Promise<Response> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${response.status} ${response.statusText}`.trim());
  return response;
}

async function inflated(response: Response): Promise<Uint8Array> {
  const bytes = new Uint8Array(await response.arrayBuffer());
  if (bytes[0] !== 0x1f || bytes[1] !== 0x8b) return bytes;
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

const packed = ".rwp";

// engineAt gives the engine behind an address: out of this device's cache, where it was put together before; else
// unpacked as it comes. Where that gives another engine than was published, the plain form is fetched, which lies
// beside it. Nothing is compiled that is not what the name says.
async function engineAt(address: string, coming?: Coming): Promise<Uint8Array> {
  if (!address.endsWith(packed)) return fetched(address, coming);
  const before = await put(address);
  if (before) {
    void coming?.body.cancel();
    return before;
  }
  coming ??= await asked(address).then(
    (response) => ({ body: response.body!, total: Number(response.headers.get("Content-Length")) }),
    (fault: Error) => {
      throw new Missing(new URL(address).pathname, fault.message);
    },
  );
  try {
    const { body, total } = coming;
    const bytes = await unpack(new Line(body.getReader(), (got) => postMessage({ got, total })));
    await checked(address, bytes);
    void put(address, bytes);
    return bytes;
  } catch {
    return fetched(address.slice(0, -packed.length) + ".wasm.gz");
  }
}

// put keeps the engine as it was put together, or gives the one that is kept. It stands under its digest, in a cache
// named by its path without that: another one of this site goes, those of other desks and of other sites of this origin
// stay. A browser that has no room or no caches does without.
async function put(address: string, bytes?: Uint8Array): Promise<Uint8Array | undefined> {
  try {
    const cache = await caches.open(`ribband-engine ${new URL(address).pathname.replace(/-[^-]*$/, "")}`);
    if (bytes) {
      for (const request of await cache.keys()) await cache.delete(request);
      await cache.put(address, new Response(bytes as BufferSource));
      return undefined;
    }
    const found = await cache.match(address);
    if (!found) return undefined;
    const kept = new Uint8Array(await found.arrayBuffer());
    await checked(address, kept);
    return kept;
  } catch {
    return undefined;
  }
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
const wordsOf = (language: string): Promise<Uint8Array[]> => 
  Promise.all((words[language] ?? []).map((file) => fetched(file)));

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

async function start(s: Start, coming?: Coming): Promise<void> {
  const { compile } = WebAssembly;
  words = s.words;
  const [engine, pack, spoken] = await Promise.all([
    typeof s.engine === "string" ? engineAt(s.engine, coming).then((code) => compile(code as BufferSource)) : s.engine,
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
      if ("start" in message) await start(message.start, message.coming);
      else postMessage({ reply: await answer(message.request) });
    } catch (fault) {
      stopped = true;
      if (fault instanceof Missing) postMessage({ missing: fault.file, reason: fault.message });
      else postMessage({ fault: said || String(fault) });
    }
  });
};
