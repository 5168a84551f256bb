// The one script inside the page: it names a file of the page that did not come, also where that is the page's own
// script. The page's policy allows it by its digest.
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
