// The one script inside the page: it asks for the engine, and names a file of the page that did not come, also where
// that is the page's own script. The page's policy allows it by its digest.

// The engine is most of what comes, so that it is asked for before anything else; not where this device has kept it
// (engine.ts).
try {
  const { engine } = document.currentScript.dataset;
  if (localStorage.getItem("ribband-engine " + new URL(".", location).pathname) !== engine) {
    const link = Object.assign(document.createElement("link"), { rel: "preload", as: "fetch", href: engine });
    link.crossOrigin = "anonymous"; // as the script asks for it
    document.head.append(link);
  }
} catch {
  // no storage here: the engine is asked for by the script
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
