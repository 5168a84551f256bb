// The quotations and boats of this device as a person handles them: open, copy, revise, answer, delete, export, import.
// The records are the store's, the words and the list the engine's; here they meet.
import { changed } from "./edition";
import { blank, begun, Keeper, sessionStore } from "./keeper";
import type { Said } from "./keeper";
import { remembered } from "./language";
import { isTyped } from "./patch";
import { Store } from "./store";
import type { Deal } from "./store";
import type { Past, Reply, Request, SavedFile } from "./protocol";

export interface Found {
  deal: Deal;
  past: Past[];
}

// A move is a request that opens another record, and what is told when it is open.
interface Move {
  found: Found;
  over: () => void;
}

type Send = (request: Omit<Request, "v" | "id">, quietly?: boolean) => number;

export const forms = (): HTMLFormElement[] => [...document.querySelectorAll<HTMLFormElement>("form[data-keep]")];

type Field = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;

const isField = (e: unknown): e is Field =>
  e instanceof HTMLInputElement || e instanceof HTMLTextAreaElement || e instanceof HTMLSelectElement;

// typedForms are the fields of all forms that are kept: of the quotation all, since it is one document, of the others
// what somebody has begun to type.
function typedForms(): Record<string, string> {
  const kept: Record<string, string> = {};
  for (const form of forms()) {
    for (const e of form.elements) {
      if (isField(e) && e.name && (form.id === "quotation" || isTyped(e))) kept[`${form.id}.${e.name}`] = e.value;
    }
  }
  return kept;
}

const isAnyTyped = (): boolean => forms().some((form) => [...form.elements].some((e) => isField(e) && isTyped(e)));

function refill(fields: Record<string, string>): void {
  for (const form of forms()) {
    for (const e of form.elements) {
      const value = isField(e) ? fields[`${form.id}.${e.name}`] : undefined;
      if (value === undefined || !isField(e) || isTyped(e)) continue;
      // What is of the record counts as typed: an engine that was started again does not know it, and would take it
      // away.
      if (!(e instanceof HTMLSelectElement)) e.defaultValue = "";
      e.value = value;
    }
  }
}

// letters are what a device calls itself in numbers until somebody names it: without I and O, which look like digits.
function letters(): string {
  const of = "ABCDEFGHJKLMNPQRSTUVWXYZ";
  return [...crypto.getRandomValues(new Uint8Array(2))].map((n) => of[n % of.length]).join("");
}

// today is the day where the person is.
function today(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
}

export class Deals {
  private readonly box = document.getElementById("deals-details")!;
  private readonly keeper: Keeper;
  private readonly moves = new Map<number, Move>(); // by request
  private readonly exporting = new Map<number, Deal[]>();
  private readonly arriving = new Map<number, () => void>();
  private readonly issuing = new Set<number>(); // the requests that make a quotation
  private readonly enquiring = new Set<number>(); // the requests that make a file for the yard
  private given: string[] = [];
  private device = "";
  private deleted = ""; // the record that undo brings back
  private listing = 0; // a timer
  private base = ""; // the boat of an issued record as this edition gives it
  // Until another record is open, what a person does next waits: it is meant for that record, and would change the one
  // before.
  moving: Promise<void> | undefined;
  private begun = false; // this tab has its record
  private asked = false; // whether the browser will keep what is stored

  constructor(
    private readonly send: Send,
    private readonly note: (text: string, kind?: "note" | "error") => void,
    private readonly link: () => string, // of the boat, to the buyer's page
  ) {
    const place = `ribband ${new URL(".", location.href).pathname} ${document.body.dataset.desk}`;
    this.keeper = new Keeper(
      place,
      (what, reason) => this.say(what, reason),
      () => this.list(),
    );
  }

  // leave and returned follow the page out of sight and back.
  leave(): void {
    this.keeper.leave();
  }

  returned(): void {
    this.keeper.returned();
  }

  private word(name: string): string {
    return this.box.dataset[name] ?? "";
  }

  // say shows how the store stands, and what happened to the record.
  private say(what: Said | "beside", reason = ""): void {
    const text = this.word(what).replace("{reason}", reason);
    if (["copied", "elsewhere", "revised", "beside"].includes(what)) return this.note(text);
    if (what === "taken") return void this.askAgain();
    const saved = document.getElementById("saved");
    if (!saved) return; // the desk was locked
    saved.textContent = text;
    saved.dataset.state = what;
    if (what !== "saving" && what !== "saved") this.note(text, "error");
  }

  // sayAgain says in the words of another language how the store stands.
  sayAgain(): void {
    const saved = document.getElementById("saved");
    if (saved?.dataset.state) saved.textContent = this.word(saved.dataset.state);
    this.list();
  }

  // begin opens the store and finds what this tab begins with: its own record, else the newest draft that no other tab
  // has open.
  async begin(): Promise<Found | undefined> {
    this.device = letters();
    let store: Store;
    try {
      store = await Store.open(this.keeper.scope);
    } catch {
      this.say("off");
      return undefined;
    }
    this.keeper.store = store;
    const held = await this.held();
    try {
      this.device = (await store.own("device")) ?? this.device;
      await store.setOwn("device", this.device);
      await store.tidy(Date.now(), held);
      await this.keeper.recover(store);
    } catch (fault) {
      this.keeper.failed(fault); // what is stored can be read all the same
    }
    const own = sessionStore((s) => s.getItem(this.keeper.scope));
    const all = newestFirst(await store.all());
    const deal = all.find((d) => d.id === own) ?? all.find((d) => d.state === "draft" && !d.plain && !held.has(d.id));
    this.given = await store.numbers(deal ?? blank());
    return deal && { deal, past: await store.past(deal.id) };
  }

  // held are the records that some tab has open.
  private async held(): Promise<Set<string>> {
    if (!("locks" in navigator)) return new Set();
    const { held } = await navigator.locks.query();
    const mine = `${this.keeper.scope} `;
    return new Set((held ?? []).filter((l) => l.name?.startsWith(mine)).map((l) => l.name!.slice(mine.length)));
  }

  // open shows a record, or what an address names beside it.
  open(found: Found | undefined, link: string): Promise<void> {
    const { deal, past } = found ?? { deal: undefined, past: undefined };
    const act =
      deal?.quote && !link ? { act: "file", text: deal.quote } : { act: "open", link, text: deal?.spec || undefined };
    return this.move({ ...act, past }, found ?? { deal: this.keeper.deal, past: this.keeper.past });
  }

  // move asks for another record, and ends when it is open.
  private move(request: Omit<Request, "v" | "id">, found: Found): Promise<void> {
    return new Promise((over) => {
      this.moves.set(this.send({ ...request, ...this.context() }), { found, over });
    });
  }

  // during says that another record is being opened until a promise comes to its end.
  during(move: Promise<void>): void {
    const going = move
      .catch((fault: unknown) => this.say("failed", String(fault)))
      .then(() => {
        if (this.moving === going) this.moving = undefined;
      });
    this.moving = going;
  }

  // openAgain opens the record of this tab for an engine that was started again.
  openAgain(): void {
    for (const { over } of this.moves.values()) over(); // these went with the engine of before
    this.moves.clear();
    void this.open({ deal: this.keeper.deal, past: this.keeper.past }, "");
  }

  // settled is when all that was done is stored.
  settled(): Promise<void> {
    return this.keeper.settled();
  }

  // context is what the engine proposes a quotation's details by.
  private context(): Pick<Request, "today" | "device" | "given" | "form" | "units"> {
    const seller = document.querySelector<HTMLInputElement>("#detail-seller")?.value ?? "";
    return { today: today(), device: this.device, given: this.given, form: seller ? { seller } : undefined,
      units: remembered("units") };
  }

  ask(request: Omit<Request, "v" | "id">): void {
    this.send({ ...request, ...this.context() });
  }

  // answered takes an answer into the record. Of a quotation it tells, when nothing of it can be lost any more, whether
  // its paper may be shown: not where another tab has issued under its number meanwhile.
  answered(reply: Reply, handed: boolean): Promise<boolean> | undefined {
    const move = this.moves.get(reply.id);
    this.moves.delete(reply.id);
    if (move && (reply.apart || !reply.error)) this.moved(move.found, reply);
    move?.over();
    if (reply.wanted) this.merge(reply.wanted);
    if (this.enquiring.delete(reply.id) && reply.file) save(reply.file);
    else if (reply.put) void this.take(reply.id, reply.put, reply.file);
    if (!reply.spec) return undefined;
    const issued = reply.quote && this.issuing.delete(reply.id) ? { state: "issued", quote: reply.quote } : {};
    if (move && this.keeper.deal.state !== "draft") return undefined;
    if (this.keeper.deal.state !== "draft" && reply.spec === this.base && !reply.fresh && !handed) return undefined;
    this.keeper.change(
      {
        spec: reply.spec,
        boat: reply.boat,
        total: reply.total,
        ...(handed || (reply.fresh && !move) ? { form: typedForms() } : {}),
        ...issued,
        plain: Boolean(reply.plain) && !isAnyTyped() && !reply.quote,
      },
      reply.pushed,
      reply.popped,
    );
    this.base = reply.spec;
    if (!reply.quote) return undefined;
    const { id } = this.keeper.deal;
    return this.keeper.settled().then(() => this.keeper.deal.id !== id || this.keeper.deal.state === "issued");
  }

  private moved(move: Found, reply: Reply): void {
    this.base = reply.spec ?? "";
    if (reply.apart) {
      this.keeper.adopt(blank(), []);
      if (!reply.error) this.say("beside");
      return;
    }
    if (this.keeper.deal.id !== move.deal.id) for (const form of forms()) form.reset();
    // the record that is here already, opened again, may have changed since it was asked for
    const { deal, past } = this.keeper.deal.id === move.deal.id ? this.keeper : move;
    if (reply.quote && !deal.quote) {
      // a quotation from a file: its form is as the engine filled it
      Object.assign(deal, {
        state: "issued",
        quote: reply.quote,
        spec: reply.spec,
        boat: reply.boat,
        total: reply.total,
        plain: false,
        form: typedForms(),
      });
    }
    // the same boat at another price: the price book is another
    if (deal.state === "draft" && deal.total && deal.spec === reply.spec && deal.total !== reply.total) {
      changed(deal.total, reply.total ?? "");
    }
    this.keeper.adopt(deal, past);
    refill(deal.form ?? {});
    if (!this.begun && isAnyTyped()) void Promise.resolve().then(() => this.typed()); // before the engine was there
    this.begun = true;
    if (deal.version === 0 && deal.spec) void this.keeper.save(true);
  }

  // typed keeps what somebody types, as it is typed.
  typed(): void {
    if (!this.begun) return; // what stands in the fields is taken in with the record
    this.keeper.change({ form: typedForms(), plain: false });
    if (!this.asked) void this.persist();
  }

  // persist asks the browser to keep what is stored for good, and shows what it said.
  private async persist(): Promise<void> {
    this.asked = true;
    const kept = (await navigator.storage?.persist?.()) ?? false;
    const note = document.getElementById("store-note");
    if (note) note.textContent = this.word(kept ? "persisted" : "evictable"); // none once the desk is locked
  }

  // issue asks for the quotation under a number that no other of this device bears.
  async issue(form: Record<string, string>): Promise<void> {
    this.keeper.change({ form: typedForms() });
    const { id } = this.keeper.deal;
    this.given = (await this.keeper.store?.numbers(this.keeper.deal)) ?? [];
    if (id !== this.keeper.deal.id) return; // another record was opened meanwhile
    form["revision"] = String(this.keeper.deal.revision);
    this.issuing.add(this.send({ act: "freeze", ...this.context(), form }));
  }

  // askAgain says that another tab has issued under this number meanwhile, and which is free.
  private async askAgain(): Promise<void> {
    const form = document.querySelector<HTMLFormElement>("#quotation");
    if (!form) return;
    const fields: Record<string, string> = {};
    for (const [name, value] of new FormData(form)) fields[name] = String(value);
    await this.issue(fields);
  }

  // list shows the records again, soon.
  list(): void {
    clearTimeout(this.listing);
    this.listing = window.setTimeout(() => void this.listNow(), 250);
  }

  private async listNow(): Promise<void> {
    const store = this.keeper.store;
    if (!store) return;
    this.given = await store.numbers(this.keeper.deal);
    const all = newestFirst(await store.all());
    const rows = all.map((d) => ({ ...this.row(d), revises: Boolean(revised(d, all)) || undefined }));
    const query = (document.getElementById("deals-search") as HTMLInputElement).value;
    this.send({ act: "deals", text: JSON.stringify(rows), value: query, today: today() }, true);
  }

  private row(d: Deal): Record<string, unknown> {
    const of = (name: string): string | undefined => d.form?.[`quotation.${name}`] || undefined;
    const numbered = d.state !== "draft" || d.origin !== undefined;
    return {
      id: d.id,
      state: d.state,
      revision: d.revision,
      saved: d.saved,
      boat: d.boat,
      total: d.total,
      plain: d.plain || undefined,
      open: d.id === this.keeper.deal.id || undefined,
      number: numbered ? of("number") : undefined,
      date: of("date"),
      valid: of("valid"),
      customer: of("name"),
    };
  }

  // done does what a button of the list asks for; false where it is none of these.
  done(what: string, e: HTMLElement): boolean {
    const acts: Record<string, (id: string) => Promise<void> | void> = {
      "deal-new": () => this.fresh(),
      "deal-open": (id) => this.with(id, (found) => this.open(found, "")),
      "deal-copy": (id) =>
        this.with(id, ({ deal }) => this.again({ ...deal, ...begun(), origin: undefined, form: {} })),
      "deal-revise": (id) => this.with(id, ({ deal }) => this.again(revision(deal))),
      "deal-compare": (id) => this.compare(id),
      "deal-accepted": (id) => this.mark(id, "accepted"),
      "deal-declined": (id) => this.mark(id, "declined"),
      "deal-withdrawn": (id) => this.mark(id, "withdrawn"),
      "deal-delete": (id) => this.remove(id),
      "deal-undelete": () => this.restore(),
      "deal-export": (id) => this.export((d) => d.id === id),
      "deals-export": () => {
        const since = (document.getElementById("deals-since") as HTMLInputElement).value;
        return this.export((d) => !d.plain && d.saved >= since);
      },
      "deals-device": () => this.rename(),
      "enquiry-mail": () => this.mail(),
      "enquiry-file": () => this.enquire(),
    };
    const act = acts[what];
    if (!act) return false;
    this.during(Promise.resolve(act(e.dataset.key ?? "")));
    return true;
  }

  private async with(id: string, use: (found: Found) => Promise<void> | void): Promise<void> {
    await this.keeper.settled();
    const deal = await this.keeper.store?.get(id);
    if (deal) await use({ deal, past: (await this.keeper.store?.past(id)) ?? [] });
  }

  // again opens a new record made of another.
  private again(deal: Deal): Promise<void> {
    const { quote: _, bases: __, ...rest } = deal;
    return this.open({ deal: rest, past: [] }, "");
  }

  // fresh begins for the next customer: a clean boat and a clean form.
  private async fresh(): Promise<void> {
    await this.keeper.settled();
    this.given = (await this.keeper.store?.numbers(blank())) ?? [];
    await this.move({ act: "new", past: [] }, { deal: blank(), past: [] });
  }

  // compare shows what has changed since the quotation that a record revises.
  private async compare(id: string): Promise<void> {
    await this.keeper.settled();
    const all = (await this.keeper.store?.all()) ?? [];
    const now = all.find((d) => d.id === id);
    const was = now && revised(now, all);
    if (was) this.send({ act: "deals-compare", text: JSON.stringify([was, now]) });
  }

  private async mark(id: string, state: string): Promise<void> {
    await this.keeper.settled();
    if (id === this.keeper.deal.id) return this.keeper.change({ state });
    const deal = await this.keeper.store?.get(id);
    if (deal) await this.keeper.store?.put({ ...deal, state, saved: new Date().toISOString() });
    this.list();
  }

  private async remove(id: string): Promise<void> {
    await this.keeper.settled();
    const name = document
      .querySelector(`#deal-delete-${CSS.escape(id)}`)
      ?.closest("li")
      ?.querySelector(".deal-name");
    await this.keeper.store?.remove(id);
    this.deleted = id;
    document.getElementById("deals-deleted")!.textContent = this.word("deleted").replace(
      "{name}",
      name?.textContent ?? "",
    );
    document.getElementById("deals-undo")!.hidden = false;
    if (id === this.keeper.deal.id) await this.fresh();
    this.list();
  }

  private async restore(): Promise<void> {
    await this.keeper.store?.restore(this.deleted);
    document.getElementById("deals-undo")!.hidden = true;
    this.list();
  }

  private async rename(): Promise<void> {
    const name = prompt(this.word("device"), this.device)?.trim().toUpperCase() ?? "";
    if (!/^[A-Z0-9]{1,4}$/.test(name)) return;
    this.device = name;
    await this.keeper.store?.setOwn("device", name);
  }

  private async export(which: (d: Deal) => boolean): Promise<void> {
    await this.keeper.settled();
    const list = newestFirst((await this.keeper.store?.all()) ?? [this.keeper.deal]).filter(which);
    const { today, device } = this.context();
    const id = this.send({
      act: "deals-export",
      text: JSON.stringify(list),
      value: new Date().toISOString(),
      today,
      device,
    });
    this.exporting.set(id, list);
  }

  // enquiry are the fields of the buyer's form.
  private enquiry(): Record<string, string> {
    const fields: Record<string, string> = {};
    for (const [name, value] of new FormData(document.getElementById("enquiry") as HTMLFormElement)) {
      fields[name] = String(value);
    }
    return { ...fields, boat: this.keeper.deal.boat ?? "", total: this.keeper.deal.total ?? "", link: this.link() };
  }

  // mail opens a mail to the yard that is filled in: the person sends it, or not.
  private mail(): void {
    const { mail = "", subject = "", body = "" } = document.getElementById("enquiry")!.dataset;
    const { remarks = "", ...fields } = this.enquiry();
    const of = (text: string): string =>
      encodeURIComponent(
        text.replace(/\{(\w+)\}/g, (blank, name: string) => ({ ...fields, words: remarks })[name] ?? blank),
      );
    location.href = `mailto:${mail}?subject=${of(subject)}&body=${of(body.replaceAll("\n", "\r\n"))}`;
  }

  // posts fills in what the form has to say of the boat, before the browser sends it to the yard's host.
  posts(form: HTMLFormElement): void {
    (form.elements.namedItem("link") as HTMLInputElement).value = this.link();
    (form.elements.namedItem("spec") as HTMLInputElement).value = this.keeper.deal.spec;
  }

  // enquire makes a file for the yard's desk: the boat, with the buyer's fields where a quotation has the customer's.
  private enquire(): void {
    const form = Object.fromEntries(
      Object.entries(this.enquiry()).map(([name, value]) => [`quotation.${name}`, value]),
    );
    const list = [{ ...this.keeper.deal, ...begun(), form, plain: false }];
    const { today } = this.context();
    this.enquiring.add(
      this.send({ act: "deals-export", text: JSON.stringify(list), value: new Date().toISOString(), today }),
    );
  }

  // takeIn takes in files of records, one after the other.
  async takeIn(input: HTMLInputElement): Promise<void> {
    const files = [...(input.files ?? [])];
    input.value = "";
    for (const file of files) {
      const text = await file.text();
      await new Promise<void>((resolve) => this.arriving.set(this.send({ act: "deals-import", text }), resolve));
    }
  }

  // openFile opens a quotation or a boat from a file, beside what is here; one that is here already is opened as it is.
  async openFile(text: string): Promise<void> {
    const known = (await this.keeper.store?.all())?.find((d) => d.quote === text);
    if (known) return this.with(known.id, (found) => this.open(found, ""));
    await this.move({ act: "file", text, past: [] }, { deal: blank(), past: [] });
  }

  private async merge(wanted: string[]): Promise<void> {
    await this.keeper.settled();
    const names = new Set(wanted);
    const own = (d: Deal): boolean => names.has(d.id) || wanted.some((w) => d.id.startsWith(`${w}-`));
    this.send({ act: "deals-merge", text: JSON.stringify(((await this.keeper.store?.all()) ?? []).filter(own)) });
  }

  // take stores what an import or export changed, and then hands over the file.
  private async take(id: number, put: Deal[], file: SavedFile | undefined): Promise<void> {
    try {
      await this.keeper.store?.take(put);
    } catch (fault) {
      return this.say("failed", String(fault));
    }
    if (file) save(file);
    const mine = put.find((d) => d.id === this.keeper.deal.id);
    if (mine)
      await this.with(mine.id, (found) => (file ? this.keeper.adopt(found.deal, found.past) : this.open(found, "")));
    this.exporting.delete(id);
    this.list();
  }
}

const newestFirst = (list: Deal[]): Deal[] =>
  list.sort((a, b) => (a.saved < b.saved ? 1 : a.saved > b.saved ? -1 : 0));

// revision is a draft of the next revision of a record, under the same number and to the same customer.
function revision(deal: Deal): Deal {
  const form: Record<string, string> = { ...deal.form, "quotation.date": today() };
  delete form["quotation.valid"];
  return { ...deal, ...begun(), revision: deal.revision + 1, origin: deal.origin ?? deal.id, form };
}

// revised is the quotation that a record revises, the latest of them, where this device has it.
function revised(deal: Deal, all: Deal[]): Deal | undefined {
  if (deal.origin === undefined) return undefined;
  return all
    .filter((d) => d.quote && (d.origin ?? d.id) === deal.origin && d.revision < deal.revision)
    .sort((a, b) => b.revision - a.revision)[0];
}

// save hands a file to the person: by the share sheet of a telephone, else as a download.
function save(file: SavedFile): void {
  const blob = new File([file.text], file.name, { type: file.type });
  if (matchMedia("(pointer: coarse)").matches && navigator.canShare?.({ files: [blob] })) {
    void navigator.share({ files: [blob] }).catch(() => download(blob));
  } else download(blob);
}

function download(file: File): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
