// The one script inside the page, after the choice of a language (early.js). It starts the engine, before the rest of
// the page has come: on a return that is half of the wait. And it names a file of the page that did not come, also
// where that is the page's own script. The page's policy allows it by its digest.
{
  const { attributes, dataset } = document.currentScript;
  const here = (name) => new URL(name, location).href;
  const keptHere = () => {
    try {
      const { pathname } = new URL(here(dataset.engine));
      return localStorage.getItem("ribband-engine " + pathname.replace(/-[^-]*$/, "")) === pathname; // engine.ts
    } catch {
      return false; // no storage here
    }
  };

  // wordFiles are where the words of the page's languages are, which the engine does not have in itself.
  const wordFiles = () => {
    const found = {};
    for (const { name, value } of attributes) {
      const language = /^data-(?:words|book)-(.+)$/.exec(name)?.[1];
      if (language) (found[language] ??= []).push(here(value));
    }
    return found;
  };

  // beginEngine starts the first worker, with the page's pack or one that was sealed. What the worker says before
  // engine.ts listens is heard here. The engine is most of what comes: where this device has not kept it, it is asked
  // for at once, and the worker is handed what comes of it, or asks itself where that fails and says why.
  globalThis.beginEngine = (pack = here(dataset.pack)) => {
    const start = { engine: here(dataset.engine), pack, language: document.documentElement.lang, words: wordFiles() };
    const worker = new Worker(dataset.worker);
    const heard = [];
    worker.onmessage = worker.onerror = (event) => heard.push(event);
    const tell = (coming) => {
      try {
        worker.postMessage({ start, coming }, coming ? [coming.body] : []);
      } catch {
        worker.postMessage({ start }); // streams cannot be handed on in this browser
      }
    };
    if (keptHere()) tell();
    else fetch(start.engine).then(({ ok, body, headers }) =>
      tell(ok && body ? { body, total: Number(headers.get("Content-Length")) } : undefined)).catch(() => tell());
    return { worker, start, heard };
  };

  if (dataset.pack) {
    if (!leaving) globalThis.engineBegun = beginEngine();
  } else if (!keptHere()) { // a sealed desk: while somebody types its phrase the engine comes
    const link = Object.assign(document.createElement("link"), { rel: "preload", as: "fetch", href: dataset.engine });
    link.crossOrigin = "anonymous"; // as it is asked for later
    document.head.append(link);
  }
}
addEventListener("error", (event) => {
  const file = event.target.src || event.target.href;
  if (!file) return;
  const say = () => {
    const state = document.getElementById("state") ?? document.getElementById("unlock-state");
    const words = document.getElementById("edition")?.dataset.missing ?? "{file}";
    state.textContent = words.replace("{file}", new URL(file).pathname).replace(" ({reason})", "");
    state.dataset.kind = state.dataset.missing = "error";
  };
  if (document.readyState === "loading") addEventListener("DOMContentLoaded", say);
  else say();
}, true);
