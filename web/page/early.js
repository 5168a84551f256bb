// In the page's head, before anything is shown: which language this visitor reads. The address says it, by ?lang= or by
// the page's own name; else what was chosen on this device before, else what the browser asks for, else the first
// language of the book. Where it is another than this page's, its page is loaded in the place of this one.
let leaving = false; // for that page
{
  const { lang, dataset } = document.documentElement;
  const all = (dataset.languages ?? "").split(" ");
  const one = (tag) => tag && all.find((own) => own === tag || own === tag.split("-")[0]);
  let kept = "";
  try {
    kept = localStorage.getItem("ribband language"); // as in language.ts
  } catch {
    // the browser keeps nothing
  }
  const asked = [new URLSearchParams(location.search).get("lang"), lang === all[0] ? "" : lang, kept];
  const wanted = [...asked, ...navigator.languages].map(one).find(Boolean) ?? all[0];
  if (all.length > 1 && wanted !== lang) {
    const file = wanted === all[0] ? `${dataset.page}.html` : `${dataset.page}.${wanted}.html`;
    leaving = true;
    location.replace(file + location.search + location.hash);
  }
}
