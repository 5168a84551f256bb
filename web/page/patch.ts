// Putting fragments where they belong without taking anything from the person at work: focus, the text being typed, and what
// was folded open stay as they are.
import type { Fragment } from "./protocol";

type Control = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;

export function patch(fragments: Fragment[]): void {
  const focused = document.activeElement?.id ?? "";
  for (const f of fragments) {
    const place = document.getElementById(f.id);
    if (place) replaceInside(place, f.html);
  }
  const again = focused ? document.getElementById(focused) : null;
  if (again && again !== document.activeElement) again.focus({ preventScroll: true });
}

function replaceInside(place: HTMLElement, html: string): void {
  const open = [...place.querySelectorAll<HTMLDetailsElement>("details[id]")].filter((d) => d.open).map((d) => d.id);
  const typed = [...place.querySelectorAll<Control>("form input[id], form textarea[id], form select[id]")].filter(isTyped).map((c) => [c.id, c.value] as const);
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
function isTyped(c: Control): boolean {
  if (c instanceof HTMLSelectElement) return [...c.options].some((o) => o.selected !== o.defaultSelected);
  return c.value !== c.defaultValue;
}
