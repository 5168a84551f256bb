// The language of the page: changed in place, remembered on the device, and told in the address.
import { fromFrame } from "./patch";
import type { Frame } from "./protocol";

// remember keeps what a person has chosen for all pages of this device: the language, as early.js looks it up before
// the page is shown, and the units.
export function remember(what: "language" | "units", value: string): void {
  try {
    localStorage.setItem(`ribband ${what}`, value);
  } catch {
    // the browser keeps nothing
  }
}

export function remembered(what: "language" | "units"): string | undefined {
  try {
    return localStorage.getItem(`ribband ${what}`) ?? undefined;
  } catch {
    return undefined;
  }
}

// changeLanguage takes over the page around its panels in another language, and tells it in the address.
export function changeLanguage(frame: Frame): void {
  document.documentElement.lang = frame.language;
  document.title = frame.title;
  fromFrame(frame.html);
  const address = new URL(location.href);
  address.searchParams.set("lang", frame.language);
  history.replaceState(null, "", address);
}

// papersLanguage is the customer's, where the desk has a form for it.
export function papersLanguage(): string | undefined {
  return (document.getElementById("detail-language") as HTMLSelectElement | null)?.value;
}

// languageQuery is the language for a link to the public page: the customer's where a quotation says it, and else none,
// since whoever gets the link has his own.
export function languageQuery(): string {
  const language = papersLanguage();
  return language ? `?lang=${language}` : "";
}
