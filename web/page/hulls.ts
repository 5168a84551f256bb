// Before the engine is there a hull that is touched shows its standard build, which was published beside the page. What
// was asked for meanwhile waits for the engine, whose answer takes the place of all this.
import { patch } from "./patch";
import type { Fragment } from "./protocol";

interface Hulls {
  language: string;
  hulls: Record<string, Fragment[]>;
  folded: string; // the file with the choices of the first boat
}

let hulls: Hulls["hulls"] = {};
let expected: Promise<Hulls | undefined>; // in the language of the page
let folded: Promise<Fragment[]> | undefined;
let first: Fragment[] = []; // what stood there before

// touched says that another boat stands on the page than the engine begins with.
export let touched = false;

// expectHulls has them come: a few kB, so that they are there before a person has looked around.
export async function expectHulls(): Promise<void> {
  const { hulls: file } = document.body.dataset;
  if (!file) return; // a desk that is sealed has its page with the pack
  expected = json<Hulls>(file).then((found) => (found?.language === document.documentElement.lang ? found : undefined));
  hulls = (await expected)?.hulls ?? {};
}

// json is what a file of the site has; the engine has it, too, so that one that does not come is no fault.
async function json<T>(file: string): Promise<T | undefined> {
  try {
    return (await (await fetch(file)).json()) as T;
  } catch {
    return undefined;
  }
}

// unfolded shows the choices of a slot of the first boat, which the page has not in itself, unless the engine was there
// before them.
export async function unfolded(slot: HTMLElement, late: () => boolean): Promise<void> {
  const place = slot.querySelector(".choices");
  const found = await expected;
  if (!place || place.innerHTML || !found || touched || late()) return;
  folded ??= json<Fragment[]>(found.folded).then((list) => list ?? []);
  const own = (await folded).filter((f) => f.id === place.id);
  if (!place.innerHTML && !touched && !late()) patch(own);
}

// showHull shows a hull, or the first one again; false where it is not known yet.
export function showHull(id: string): boolean {
  const fragments = hulls[id] ?? (touched ? first : undefined);
  if (!fragments) return false;
  if (!touched) first = present();
  touched = true;
  patch(hulls[id] ? [...first, ...fragments] : first);
  return true;
}

// present is what stands in all that any hull changes.
function present(): Fragment[] {
  const ids = new Set(Object.values(hulls).flatMap((list) => list.map((f) => f.id)));
  return [...ids].map((id) => ({ id, html: document.getElementById(id)?.innerHTML ?? "" }));
}
