// What the page keeps on this device: the boat of this tab, as it was last answered, with what stands in the
// quotation's form. A tab has its own record, so that a reload finds what it had; the newest of all tabs is what a new
// tab begins with. What another boat would take the place of is set aside in a list, and only a person deletes from it.
import { site } from "./edition";

export interface Kept {
  owner: string; // the tab
  name: string; // for a person
  spec: string;
  plain: boolean; // nobody would miss the boat
  form: Record<string, string>;
  total?: string; // what the boat came to, and under which edition of the price book
  edition?: string;
  tab?: boolean; // it was set aside while its tab may be open
}

// Sites that share an origin share its storage: the path of the site parts them.
const key = `ribband:${site}:${document.body.dataset.desk}`;
const asideKey = `${key}:aside`;

// read parses what is stored; what is no record is kept as text, for the engine to say what is wrong with it.
function read(storage: Storage, name: string): Kept | undefined {
  const text = storage.getItem(name);
  if (!text) return undefined;
  try {
    const found = JSON.parse(text) as Kept;
    if (typeof found.spec === "string") {
      const { owner, name, spec, plain, form, total, edition } = found;
      return {
        owner: String(owner), name: String(name), spec, plain: plain === true, form: { ...form }, total, edition,
      };
    }
  } catch {
    // not written by this page, or damaged
  }
  return { owner: "", name: "?", spec: text, plain: false, form: {} };
}

// safely gives up where storage is switched off or full: the link still holds the boat.
function safely<T>(act: () => T, without: T): T {
  try {
    return act();
  } catch {
    return without;
  }
}

const mine = safely(() => read(sessionStorage, key), undefined);
const owner = mine?.owner || `${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}`;
let taken = ""; // the record of another tab that this one began with

// recall is what this tab begins with.
export function recall(): Kept | undefined {
  const found = mine ?? safely(() => read(localStorage, key), undefined);
  taken = mine ? "" : safely(() => localStorage.getItem(key) ?? "", "");
  return found;
}

// keep stores what this tab has. Another tab's newer record is set aside before.
export function keep(now: Omit<Kept, "owner">): void {
  const text = JSON.stringify({ owner, ...now });
  safely(() => sessionStorage.setItem(key, text), undefined);
  safely(() => {
    const last = read(localStorage, key);
    if (last && last.owner !== owner && localStorage.getItem(key) !== taken) setAside({ ...last, tab: true });
    localStorage.setItem(key, text);
  }, undefined);
}

// listAside is newest first.
export function listAside(): Kept[] {
  return safely(() => JSON.parse(localStorage.getItem(asideKey) ?? "[]") as Kept[], []);
}

// same says that a record would add nothing to another, from whichever tab either comes.
const same = (a: Kept, b: Kept): boolean => a.spec === b.spec && JSON.stringify(a.form) === JSON.stringify(b.form);

// setAside puts a record before the others in the list, that of another tab in the place of what it had there. One that
// nobody would miss is let go.
export function setAside(record: Kept): void {
  if (record.plain && Object.values(record.form).every((v) => v === "")) return;
  const list = listAside().filter((k) => !same(k, record) && !(record.tab && k.tab && k.owner === record.owner));
  safely(() => localStorage.setItem(asideKey, JSON.stringify([record, ...list])), undefined);
}

// takeAside removes a record from the list and gives it.
export function takeAside(index: number): Kept | undefined {
  const list = listAside();
  const [record] = list.splice(index, 1);
  safely(() => localStorage.setItem(asideKey, JSON.stringify(list)), undefined);
  return record;
}
