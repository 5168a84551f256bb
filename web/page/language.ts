// The language of the page: changed in place, remembered on the device, and told in the address.
import { fromFrame } from "./patch";
import type { Frame } from "./protocol";

// As in head.js, which looks it up before the page is shown.
const KEY = "ribband language";

// rememberLanguage keeps what was chosen by hand, for the next visit.
export function rememberLanguage(language: string): void {
  try {
    localStorage.setItem(KEY, language);
  } catch {
    // the browser keeps nothing: the address has it
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

// languageQuery is the language for a link to the public page: the customer's where a quotation says it, else that of
// this page; nothing where the book has one language.
export function languageQuery(): string {
  if (!document.getElementById("languages")) return "";
  return `?lang=${papersLanguage() ?? document.documentElement.lang}`;
}
