// The record that this tab works on. Every change of it is queued for the store, one write at a time and always the
// newest; only when the last one is on the disk does the page say "saved". A record that was issued, or that another
// tab has, is never changed: the change begins another record beside it.
import type { Past } from "./protocol";
import { Changed, Store, Taken } from "./store";
import type { Deal } from "./store";

const MOST_STEPS = 50; // as in core/desk/undo.go

// Said are what the keeper tells the page. Each is the name of a text in the page.
export type Said = "saving" | "saved" | "failed" | "full" | "off" | "copied" | "elsewhere" | "revised" | "taken";

interface Write {
  deal: Deal;
  past?: Past[]; // where it has changed
  flying?: string; // of a page that went away: the write that was on its way, by its time
}

export class Keeper {
  deal: Deal = blank();
  past: Past[] = [];
  store: Store | undefined;
  private readonly pending = new Map<string, Write>(); // by record, the newest of each
  private readonly versions = new Map<string, number>(); // as they stand in the store
  private running: Promise<void> = Promise.resolve();
  private busy = false;
  private release: (() => void) | undefined; // of the lock on the record
  private flying = ""; // when the write began that was last on its way to the disk
  private held = "";
  private mine = true; // no other tab has the record

  constructor(
    readonly scope: string,
    private readonly say: (what: Said, reason?: string) => void,
    private readonly changed: () => void, // the list is another
  ) {}

  // leave is for when the page goes away: what is not written yet is put where it can be put at once, and the record is
  // free for another tab. A page that comes back holds it again.
  leave(): void {
    for (const write of this.pending.values()) {
      left(this.scope, write, this.versions.get(write.deal.id) ?? 0, this.flying);
    }
    this.release?.();
    this.release = undefined;
    this.held = "";
  }

  returned(): void {
    for (const id of this.pending.keys()) localStore((s) => s.removeItem(leftKey(this.scope, id)));
    this.hold(this.deal.id);
  }

  // recover writes what a page left that went away before it was written.
  async recover(store: Store): Promise<void> {
    for (const [key, write] of leftovers(this.scope)) {
      const stored = await store.get(write.deal.id);
      const same =
        stored &&
        stored.spec === write.deal.spec &&
        JSON.stringify(stored.form) === JSON.stringify(write.deal.form) &&
        stored.state === write.deal.state;
      if (!same) {
        // what was on its way to the disk as the page went may have arrived since
        const arrived = stored !== undefined && stored.saved === write.flying;
        const newer = arrived || (stored?.version ?? 0) === write.deal.version;
        const deal = { ...write.deal, version: stored?.version ?? 0 };
        await store.put(newer ? deal : aside(write.deal), write.past);
      }
      localStore((s) => s.removeItem(key));
    }
  }

  // adopt makes a record the one of this tab. What is not written yet of the one before it still will be.
  adopt(deal: Deal, past: Past[]): void {
    this.deal = deal;
    this.past = past;
    this.versions.set(deal.id, deal.version);
    this.hold(deal.id);
    this.changed();
  }

  // hold locks a record, so that another tab knows that it is at work here.
  private hold(id: string): void {
    if (this.held === id) return; // asking twice would find it taken, by this tab
    this.release?.();
    this.release = undefined;
    this.held = id;
    this.mine = true;
    sessionStore((s) => s.setItem(this.scope, id));
    if (!("locks" in navigator)) return;
    void navigator.locks.request(`${this.scope} ${id}`, { ifAvailable: true }, (lock) => {
      if (this.deal.id !== id) return undefined; // left meanwhile
      if (lock) return new Promise<void>((release) => (this.release = release));
      this.mine = false;
      this.say("elsewhere");
      return undefined;
    });
  }

  // change takes in what is new of the record, and queues it.
  change(more: Partial<Deal>, pushed?: Past, popped?: boolean): void {
    const differs = (k: keyof Deal): boolean => JSON.stringify(more[k]) !== JSON.stringify(this.deal[k]);
    if (!(Object.keys(more) as (keyof Deal)[]).some(differs) && !pushed && !popped) return;
    const touched = (more.spec !== undefined && differs("spec")) || (more.form !== undefined && differs("form"));
    if (touched && !more.state && (this.deal.state !== "draft" || !this.mine)) this.fork();
    this.deal = { ...this.deal, ...more };
    if (popped) this.past = this.past.slice(0, -1);
    if (pushed) this.past = [...this.past, pushed].slice(-MOST_STEPS);
    void this.save(Boolean(pushed || popped));
  }

  // fork goes on in a record of its own: a revision of what was issued, or a copy of what another tab has.
  private fork(): void {
    this.say(this.deal.state === "draft" ? "copied" : "revised");
    this.deal = aside(this.deal);
    this.hold(this.deal.id);
    void this.save(true);
  }

  // save writes the record as it is now. It resolves when nothing is left to write.
  save(past = false): Promise<void> {
    const waits = this.pending.get(this.deal.id);
    this.pending.set(this.deal.id, { deal: this.deal, past: past || waits?.past ? this.past : undefined });
    this.say("saving");
    if (!this.busy) this.running = this.run();
    return this.running;
  }

  settled(): Promise<void> {
    return this.running;
  }

  private async run(): Promise<void> {
    this.busy = true;
    try {
      while (this.pending.size > 0) {
        if (!this.store) return this.say("off");
        const [write] = this.pending.values();
        if (!write || !(await this.put(this.store, write))) return;
      }
      this.say("saved");
    } finally {
      this.busy = false;
    }
  }

  // put writes one record; false where it failed, and waits for the next change to be tried again. Until it is written
  // it stays pending, so that a page that goes away can leave it.
  private async put(store: Store, write: Write): Promise<boolean> {
    const { id } = write.deal;
    const deal = { ...write.deal, version: this.versions.get(id) ?? 0, saved: new Date().toISOString() };
    this.flying = deal.saved;
    try {
      this.versions.set(id, await store.put(deal, write.past));
      if (this.pending.get(id) === write) this.pending.delete(id);
      if (this.deal.id === id) this.deal = { ...this.deal, version: deal.version + 1, saved: deal.saved };
      this.changed();
      return true;
    } catch (fault) {
      if (fault instanceof Changed) return this.diverged(write);
      this.failed(fault, write);
      return false;
    }
  }

  // diverged keeps beside what another tab has written what was to be written here.
  private diverged(write: Write): true {
    const here = this.deal.id === write.deal.id;
    this.pending.delete(write.deal.id);
    const copy = { ...write.deal, ...begun(), state: write.deal.state };
    this.pending.set(copy.id, { deal: copy, past: here ? this.past : write.past });
    if (here) {
      this.deal = { ...this.deal, id: copy.id, version: 0 };
      this.hold(copy.id);
    }
    this.say("copied");
    return true;
  }

  // failed says why something could not be written.
  failed(fault: unknown, write?: Write): void {
    if (fault instanceof Taken) {
      if (write) this.pending.delete(write.deal.id);
      if (this.deal.id === write?.deal.id) {
        this.deal = { ...this.deal, state: "draft" };
        delete this.deal.quote;
      }
      this.say("taken");
      return;
    }
    const full = fault instanceof DOMException && fault.name === "QuotaExceededError";
    this.say(full ? "full" : "failed", String(fault instanceof Error ? fault.message || fault.name : fault));
  }
}

// left puts a write where a page that goes away can still put it: the browser's store of texts, which it writes before
// the page is gone.
function left(scope: string, write: Write, version: number, flying: string): void {
  const text = JSON.stringify({ ...write, flying, deal: { ...write.deal, version } });
  localStore((s) => s.setItem(leftKey(scope, write.deal.id), text));
}

const leftKey = (scope: string, id: string): string => `${scope} left ${id}`;

function leftovers(scope: string): [string, Write][] {
  const keys = localStore((s) => Object.keys(s).filter((k) => k.startsWith(leftKey(scope, "")))) ?? [];
  return keys.flatMap((key): [string, Write][] => {
    try {
      return [[key, JSON.parse(localStorage.getItem(key) ?? "") as Write]];
    } catch {
      return []; // torn: it was never called saved
    }
  });
}

// aside is a record of its own for what went on from another: a revision of what was issued, else a copy.
function aside(from: Deal): Deal {
  const { quote: _, bases: __, ...rest } = from;
  const revision = from.state === "draft" ? from.revision : from.revision + 1;
  const origin = from.state === "draft" ? from.origin : (from.origin ?? from.id);
  return { ...rest, ...begun(), revision, origin };
}

// begun is what a new record has of its own.
export function begun(): Pick<Deal, "id" | "version" | "created" | "saved" | "state" | "revision"> {
  const now = new Date().toISOString();
  return { id: random(), version: 0, created: now, saved: now, state: "draft", revision: 1 };
}

export const blank = (): Deal => ({ ...begun(), spec: "", plain: true });

// random is an identifier that no other device makes.
function random(): string {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
}

// sessionStore is where a tab remembers its record, localStore where pages leave what was not written. A browser may
// have switched them off, or be full.
export const sessionStore = <T>(act: (s: Storage) => T): T | undefined => tried(() => act(sessionStorage));
const localStore = <T>(act: (s: Storage) => T): T | undefined => tried(() => act(localStorage));

function tried<T>(act: () => T): T | undefined {
  try {
    return act();
  } catch {
    return undefined;
  }
}
