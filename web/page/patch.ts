// Putting fragments where they belong without taking anything from the person at work: focus, the text being typed, and
// what was folded open stay as they are.
import type { Fragment } from "./protocol";

type Control = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;

// patching says that what happens to a control comes from here: one that is taken away reports a change and the loss of
// focus.
export let patching = false;

export function patch(fragments: Fragment[]): void {
  patching = true;
  try {
    replace(fragments);
  } finally {
    patching = false;
  }
}

function replace(fragments: Fragment[]): void {
  const focused = document.activeElement;
  const around = focused ? surroundings(focused) : [];
  for (const f of fragments) {
    const place = document.getElementById(f.id);
    if (place) replaceInside(place, f.html);
  }
  if (focused && !focused.isConnected) refocus(focused.id, around);
}

// fromFrame takes over the words around the panels from a body in another language: texts, and the attributes that hold
// words. Both bodies are made alike, so that elements are told by their place; what the script has filled or changed
// since stays as it is, and so does what is inside of a panel, which comes by itself.
export function fromFrame(html: string): void {
  const body = new DOMParser().parseFromString(html, "text/html").body;
  // a desk that was sealed has its bar before the page
  const first = body.firstElementChild;
  const own = [...document.body.children].find((e) => e.tagName === first?.tagName && e.className === first.className);
  for (let a: Element | null | undefined = own, b = first; a && b; a = a.nextElementSibling, b = b.nextElementSibling) {
    takeWords(a, b);
  }
}

// WORDED are the attributes that hold words. What a press has changed, such as which view is large, is not among them.
const WORDED = /^(?:data-(?!large)|aria-(?!pressed|current)|title$|placeholder$|alt$|label$)/;

function takeWords(own: Element, other: Element): void {
  if (own.tagName !== other.tagName || own.id !== other.id) return;
  for (const { name, value } of other.attributes) {
    if (WORDED.test(name) && own.getAttribute(name) !== value) own.setAttribute(name, value);
  }
  if (own.hasAttribute("hreflang")) {
    if (other.hasAttribute("aria-current")) own.setAttribute("aria-current", "true");
    else own.removeAttribute("aria-current");
  }
  // the script's own: a canvas, and marks over it
  const children = [...own.childNodes].filter((n) => !(n instanceof HTMLCanvasElement || n instanceof SVGElement));
  if (own.hasAttribute("data-panel") || children.length !== other.childNodes.length) return;
  children.forEach((child, i) => {
    const with_ = other.childNodes[i];
    if (child instanceof Element && with_ instanceof Element) takeWords(child, with_);
    else if (child instanceof Text && with_ instanceof Text) child.data = with_.data;
  });
}

// surroundings are what can take the focus when an element goes away, nearest first.
function surroundings(e: Element): HTMLElement[] {
  const list: HTMLElement[] = [];
  for (let at = e.parentElement; at; at = at.parentElement) {
    const summary = at instanceof HTMLDetailsElement ? at.querySelector<HTMLElement>(":scope > summary") : null;
    if (summary) list.push(summary);
    else if (at.hasAttribute("tabindex")) list.push(at);
  }
  return list;
}

// refocus goes to the element that has taken the place of the one with the focus, or to what is nearest around: without
// it the focus would be at the top of the page, and who works by keyboard would begin again.
function refocus(id: string, around: HTMLElement[]): void {
  const again = id ? document.getElementById(id) : null;
  for (const e of again ? [again, ...around] : around) {
    if (e.isConnected) e.focus({ preventScroll: true });
    if (document.activeElement === e) return;
  }
}

// replaceInside keeps what is unfolded and what was typed and not sent yet: in a form all of it, outside of forms only
// where somebody is typing now, since everything else there went to the engine when it was changed.
function replaceInside(place: HTMLElement, html: string): void {
  const open = [...place.querySelectorAll<HTMLDetailsElement>("details[id]")].filter((d) => d.open).map((d) => d.id);
  const typed = [...place.querySelectorAll<Control>("input[id], textarea[id], select[id]")]
    .filter((c) => (c.form ? isTyped(c) : c === document.activeElement && isUnsent(c)))
    .map((c) => [c.id, c.value] as const);
  place.innerHTML = html;
  for (const id of open) {
    const details = document.getElementById(id);
    if (details instanceof HTMLDetailsElement) details.open = true;
  }
  for (const [id, value] of typed) {
    const control = document.getElementById(id) as Control | null;
    if (control) control.value = value;
  }
}

// isTyped says whether a person has changed a control since it was rendered.
export function isTyped(c: Control): boolean {
  if (["radio", "checkbox", "file"].includes(c.type)) return false;
  if (c instanceof HTMLSelectElement) {
    // where no entry is marked as selected, the browser selects the first by itself
    return c.selectedIndex !== Math.max(0, [...c.options].findIndex((o) => o.defaultSelected));
  }
  return c.value !== c.defaultValue;
}

// isUnsent says whether a person is still at a control, so that the engine has not got what stands in it.
export function isUnsent(c: Control): boolean {
  return isTyped(c) && c.value !== c.dataset.sent;
}
