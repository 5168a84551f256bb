// A sealed desk: a form for the pass phrase stands where the desk would be, until what is sealed was opened by
// WebCrypto. Phrase and keys stay in memory, and go with the page: locking loads it anew.
//
// The twin of core/seal, whose package comment names the sources.
import { bytesOf, joined, objectOf, subtle, utf8 } from "./crypt";

const body = document.body.dataset as { sealed?: string; book?: string; idle?: string };

// As in core/seal/jwe.go.
const ALGORITHM = "PBES2-HS512+A256KW";
const ENCRYPTION = "A256GCM";
const FORMAT = 1;
const LEAST_ROUNDS = 1_000;
const MOST_ROUNDS = 10_000_000;

// What keeps a seal closed, by the names under which the form has its words.
type Trouble = "wrong" | "damaged" | "format" | "edition" | "rounds" | "missing" | "insecure";

class Closed extends Error {
  constructor(readonly trouble: Trouble) {
    super(trouble);
  }
}

// or makes what WebCrypto and the network refuse an error with a name.
async function or<T>(trouble: Trouble, work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch {
    throw new Closed(trouble);
  }
}

// What is sealed: the body of the page in each language, and the pack.
interface Content {
  pages: Record<string, string>;
  pack: string;
}

async function open(sealed: string, phrase: string): Promise<Content> {
  if (!subtle) throw new Closed("insecure");
  const texts = sealed.trimEnd().split(".");
  const parts = texts.map(bytesOf);
  const [headBytes, wrapped, iv, text, tag] = parts;
  if (parts.length !== 5 || !headBytes || !wrapped || !iv || !text || !tag) throw new Closed("damaged");
  const head = objectOf(new TextDecoder().decode(headBytes));
  if (!head) throw new Closed("damaged");
  if (head.alg !== ALGORITHM || head.enc !== ENCRYPTION || head.zip !== "DEF" || head.format !== FORMAT)
    throw new Closed("format");
  const { p2c: iterations, p2s } = head;
  const salt = bytesOf(typeof p2s === "string" ? p2s : "?");
  if (typeof iterations !== "number" || iterations < LEAST_ROUNDS || !salt) throw new Closed("damaged");
  if (iterations > MOST_ROUNDS) throw new Closed("rounds");
  if (head.edition !== body.book) throw new Closed("edition");
  const typed = await subtle.importKey("raw", utf8(phrase.normalize("NFC")), "PBKDF2", false, ["deriveKey"]);
  const from = { name: "PBKDF2", hash: "SHA-512", salt: joined(utf8(`${ALGORITHM}\0`), salt), iterations };
  const kek = await subtle.deriveKey(from, typed, { name: "AES-KW", length: 256 }, false, ["unwrapKey"]);
  const key = await or("wrong", subtle.unwrapKey("raw", wrapped, kek, "AES-KW", "AES-GCM", false, ["decrypt"]));
  const proved = { name: "AES-GCM", iv, additionalData: utf8(texts[0] ?? "") };
  const deflated = await or("damaged", subtle.decrypt(proved, key, joined(text, tag)));
  const inflated = new Blob([deflated]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const content = objectOf(await or("damaged", new Response(inflated).text()));
  const pages = content?.pages as Record<string, string> | undefined;
  if (typeof pages?.[document.documentElement.lang] !== "string" || typeof content?.pack !== "string")
    throw new Closed("damaged");
  return { pages, pack: content.pack };
}

async function load(address: string): Promise<string> {
  const response = await or("missing", fetch(address));
  if (!response.ok) throw new Closed("missing");
  return or("missing", response.text());
}

let pack: Uint8Array | undefined;

// openedPack is what was sealed, for the worker; undefined on a desk that is not sealed.
export const openedPack = () => pack;

const reasonKey = "ribband:locked";

// stored keeps why the page was locked over its loading anew, where the browser lets it.
function stored(reason?: string): string {
  try {
    const before = sessionStorage.getItem(reasonKey) ?? "";
    if (reason) sessionStorage.setItem(reasonKey, reason);
    else sessionStorage.removeItem(reasonKey);
    return before;
  } catch {
    return "";
  }
}

// unlocked comes back once there is a desk to show: at once on a page that is not sealed.
export function unlocked(): Promise<void> {
  if (!body.sealed) return Promise.resolve();
  const form = document.getElementById("unlock") as HTMLFormElement;
  const phrase = document.getElementById("phrase") as HTMLInputElement;
  const state = document.getElementById("unlock-state") as HTMLElement;
  const say = (what: string | undefined) => (state.textContent = (what && form.dataset[what]) ?? "");
  say(stored()); // why it was locked
  if (!subtle) say("insecure");
  document.getElementById("show-phrase")?.addEventListener("change", (event) => {
    phrase.type = (event.target as HTMLInputElement).checked ? "text" : "password";
  });
  let working = false;
  return new Promise((done) => {
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      if (working || !phrase.value) return;
      working = true;
      phrase.removeAttribute("aria-invalid");
      say("opening");
      load(body.sealed ?? "")
        .then((sealed) => open(sealed, phrase.value))
        .then((content) => {
          phrase.value = "";
          show(content);
          done();
        })
        .catch((fault: unknown) => {
          working = false;
          const trouble = fault instanceof Closed ? fault.trouble : "damaged";
          say(trouble);
          if (trouble === "wrong") phrase.setAttribute("aria-invalid", "true");
          phrase.focus();
          phrase.select();
        });
    });
    phrase.focus();
  });
}

// show puts the desk in the place of the form, below a bar by which it is locked again.
function show(content: Content): void {
  pack = utf8(content.pack);
  const bar = document.getElementById("lock-bar") as HTMLTemplateElement;
  // the seal proves it to be the yard's, and the policy of the page runs no script in it
  document.body.innerHTML = content.pages[document.documentElement.lang] ?? "";
  document.body.prepend(bar.content);
  document.getElementById("lock")?.addEventListener("click", () => lock("hand"));
  document.getElementById("sheet")?.focus({ preventScroll: true });
  watch();
}

// lock takes everything private away at once, and then loads the page anew, by which all memory of it goes. So nothing
// can be read while a slow network is asked for the page.
function lock(reason: "hand" | "time"): void {
  document.dispatchEvent(new Event("lock")); // the worker ends
  pack = undefined;
  document.body.replaceChildren();
  stored(reason);
  location.reload();
}

// watch locks the desk when nobody has used it for a while. It goes by the clock, since timers stand still while a
// device sleeps.
function watch(): void {
  const limit = Number(body.idle) * 1000;
  const warning = limit - Math.min(60_000, limit / 2);
  const notice = document.getElementById("lock-state");
  let last = Date.now();
  const look = (used: boolean) => {
    const idle = Date.now() - last;
    if (idle >= limit) {
      lock("time");
      return;
    }
    if (used) last = Date.now();
    const words = !used && idle >= warning ? notice?.dataset.soon : notice?.dataset.open;
    if (notice && notice.textContent !== words) notice.textContent = words ?? "";
  };
  for (const use of ["pointerdown", "pointermove", "keydown", "input", "wheel"])
    addEventListener(use, () => look(true), { capture: true, passive: true });
  for (const back of ["pageshow", "focus", "visibilitychange"]) addEventListener(back, () => look(false), true);
  setInterval(() => look(false), Math.min(1000, limit / 4));
}
