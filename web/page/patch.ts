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
