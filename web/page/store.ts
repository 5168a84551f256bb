// What this device keeps: a record for each draft and each revision, in the browser's database. A change is saved when
// its transaction is complete and on the disk, and not before; a record that another tab has changed since is never
// written over. Two sites on one origin, and two desks of one site, have databases of their own.
import type { Past } from "./protocol";

// Deal is one draft or one revision. Twin of Record in core/deals/deals.go; a test compares the two.
export interface Deal {
  id: string;
  version: number;
  created: string;
  saved: string;
  state: string;
  revision: number;
  origin?: string;
  boat?: string;
  total?: string;
  plain?: boolean;
  spec: string;
  form?: Record<string, string>;
  quote?: string;
  bases?: string[];
}

// Changed says that another tab has written the record since it was read here.
export class Changed extends Error {}

// Taken says that another quotation of this device was issued under the number.
export class Taken extends Error {}

const FORMAT = 1; // of the database

const numberOf = (deal: Deal): string => (deal.form?.["quotation.number"] ?? "").trim().toLowerCase();

// The first revision has the number for itself; later ones share it.
const numberKey = (deal: Deal): string => `${numberOf(deal)} ${deal.revision}`;

export class Store {
  private constructor(private readonly db: IDBDatabase) {}

  // open gives the store, or fails where the browser keeps nothing: in a private window, or switched off.
  static open(name: string): Promise<Store> {
    return new Promise((resolve, reject) => {
      const request = indexedDB.open(name, FORMAT);
      request.onupgradeneeded = () => {
        const db = request.result;
        for (const [store, keyPath] of [
          ["deals", "id"],
          ["past", "deal"],
          ["numbers", "key"],
          ["bin", "id"],
          ["own", "key"],
        ] as const) {
          db.createObjectStore(store, { keyPath });
        }
      };
      request.onsuccess = () => {
        request.result.onversionchange = () => request.result.close();
        resolve(new Store(request.result));
      };
      request.onerror = () => reject(request.error ?? new Error("no database"));
      request.onblocked = () => reject(new Error("another tab holds an older database"));
    });
  }

  // write runs one transaction and resolves once it is on the disk. What work throws takes back all of it.
  private write(stores: string[], work: (tx: IDBTransaction) => Promise<void>): Promise<void> {
    return new Promise((resolve, reject) => {
      const tx = this.db.transaction(stores, "readwrite", { durability: "strict" });
      let thrown: unknown;
      tx.oncomplete = () => resolve();
      tx.onabort = () => reject(thrown ?? tx.error ?? new Error("the transaction was taken back"));
      work(tx).catch((fault: unknown) => {
        thrown = fault;
        try {
          tx.abort();
        } catch {
          reject(fault); // it was over already
        }
      });
    });
  }

  private read<T>(store: string, ask: (s: IDBObjectStore) => IDBRequest<T>): Promise<T> {
    return answer(ask(this.db.transaction(store).objectStore(store)));
  }

  all(): Promise<Deal[]> {
    return this.read("deals", (s) => s.getAll() as IDBRequest<Deal[]>);
  }

  get(id: string): Promise<Deal | undefined> {
    return this.read("deals", (s) => s.get(id) as IDBRequest<Deal | undefined>);
  }

  async past(id: string): Promise<Past[]> {
    const found = await this.read("past", (s) => s.get(id) as IDBRequest<{ steps: Past[] } | undefined>);
    return found?.steps ?? [];
  }

  // numbers are those that were ever given on this device but to a record and its own earlier revisions.
  async numbers(but: Deal): Promise<string[]> {
    const rows = await this.read(
      "numbers",
      (s) => s.getAll() as IDBRequest<{ number: string; deal: string; root: string }[]>,
    );
    return rows.filter((r) => r.deal !== but.id && r.root !== (but.origin ?? but.id)).map((r) => r.number);
  }

  // put writes a record as the next version of what was read, with the steps that undo goes back to, where they have
  // changed. It gives the version written.
  async put(deal: Deal, past?: Past[]): Promise<number> {
    const version = deal.version + 1;
    await this.write(["deals", "past", "numbers"], async (tx) => {
      const deals = tx.objectStore("deals");
      const stored = (await answer(deals.get(deal.id))) as Deal | undefined;
      if ((stored?.version ?? 0) !== deal.version) throw new Changed();
      if (deal.state === "issued" && stored?.state !== "issued" && numberOf(deal)) {
        const numbers = tx.objectStore("numbers");
        const given = (await answer(numbers.get(numberKey(deal)))) as { deal: string } | undefined;
        if (given && given.deal !== deal.id) throw new Taken();
        numbers.put({
          key: numberKey(deal),
          number: deal.form?.["quotation.number"] ?? "",
          deal: deal.id,
          root: deal.origin ?? deal.id,
        });
      }
      deals.put({ ...deal, version });
      if (past) tx.objectStore("past").put({ deal: deal.id, steps: past });
    });
    return version;
  }

  // take stores records of an import or an export, all or none.
  async take(list: Deal[]): Promise<void> {
    await this.write(["deals", "numbers"], async (tx) => {
      const deals = tx.objectStore("deals");
      for (const deal of list) {
        const stored = (await answer(deals.get(deal.id))) as Deal | undefined;
        if ((stored?.version ?? 0) !== deal.version) throw new Changed();
        deals.put({ ...deal, version: deal.version + 1 });
        const key = numberKey(deal);
        if (deal.state !== "draft" && numberOf(deal) && !(await answer(tx.objectStore("numbers").get(key)))) {
          tx.objectStore("numbers").put({
            key,
            number: deal.form?.["quotation.number"] ?? "",
            deal: deal.id,
            root: deal.origin ?? deal.id,
          });
        }
      }
    });
  }

  // remove puts a record into the bin, from where restore takes it back. Its number stays given.
  remove(id: string): Promise<void> {
    return this.move("deals", "bin", id);
  }

  restore(id: string): Promise<void> {
    return this.move("bin", "deals", id);
  }

  private move(from: string, to: string, id: string): Promise<void> {
    return this.write([from, to], async (tx) => {
      const found = (await answer(tx.objectStore(from).get(id))) as Deal | undefined;
      if (!found) return;
      tx.objectStore(to).put(found);
      tx.objectStore(from).delete(id);
    });
  }

  // tidy empties the bin of what has lain there for a month, and forgets the untouched boats of tabs that are gone.
  async tidy(now: number, held: Set<string>): Promise<void> {
    const [all, bin] = [await this.all(), await this.read("bin", (s) => s.getAll() as IDBRequest<Deal[]>)];
    const age = (deal: Deal): number => now - Date.parse(deal.saved);
    const day = 86_400_000;
    const gone = all
      .filter((d) => d.plain && d.state === "draft" && !held.has(d.id) && age(d) > day)
      .map((d) => d.id);
    const old = bin.filter((d) => age(d) > 30 * day).map((d) => d.id);
    if (gone.length + old.length === 0) return;
    await this.write(["deals", "past", "bin"], async (tx) => {
      for (const id of gone) tx.objectStore("deals").delete(id);
      for (const id of [...gone, ...old]) tx.objectStore("past").delete(id);
      for (const id of old) tx.objectStore("bin").delete(id);
    });
  }

  // own are the few things that a device knows of itself, such as what it calls itself in numbers.
  async own(key: string): Promise<string | undefined> {
    const found = await this.read("own", (s) => s.get(key) as IDBRequest<{ value: string } | undefined>);
    return found?.value;
  }

  setOwn(key: string, value: string): Promise<void> {
    return this.write(["own"], async (tx) => void tx.objectStore("own").put({ key, value }));
  }
}

function answer<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error("no answer"));
  });
}
