// The pages of the specification, one in view at a time, and the views of the drawing, one of them large.

const pages = (): HTMLElement[] => [...document.querySelectorAll<HTMLElement>("main > .page")];

// turnTo shows the page that something is on, and unfolds what hides it there.
export function turnTo(target: Element): void {
  const page = target.closest(".page");
  for (const p of page ? pages() : []) {
    if (p === page) p.removeAttribute("hidden");
    else p.setAttribute("hidden", "until-found");
  }
  if (page) mark(page.id);
  for (let e: Element | null = target; e; e = e.parentElement) if (e instanceof HTMLDetailsElement) e.open = true;
}

function mark(id: string): void {
  for (const a of document.querySelectorAll<HTMLAnchorElement>("#nav a")) {
    if (a.hash === `#${id}`) {
      a.setAttribute("aria-current", "true");
      a.scrollIntoView({ block: "nearest", inline: "nearest" });
    } else a.removeAttribute("aria-current");
  }
}

// A search of the browser shows a page by itself: the others are hidden as if it had been turned to.
document.addEventListener("beforematch", (event) => turnTo(event.target as Element));

// A printer has what is folded, too; what is only to be pressed or typed there the style sheet leaves out.
addEventListener("beforeprint", () => {
  for (const e of document.querySelectorAll<HTMLDetailsElement>("details:not([open], .slot, .unfold, .closer)")) {
    e.open = true;
    e.dataset.opened = "";
  }
});
addEventListener("afterprint", () => {
  for (const e of document.querySelectorAll<HTMLDetailsElement>("details[data-opened]")) {
    e.open = false;
    delete e.dataset.opened;
  }
});

// enlarge makes a view of the drawing the large one.
export function enlarge(id: string): void {
  for (const view of document.querySelectorAll<HTMLElement>(".view")) {
    view.toggleAttribute("data-large", view.id === id);
    view.querySelector("figcaption button")?.setAttribute("aria-pressed", String(view.id === id));
  }
}

// face turns the screen to the customer, or back: what is private is out of sight, and so is a page that is.
export function face(): boolean {
  const facing = document.documentElement.toggleAttribute("data-facing");
  if (facing && document.querySelector("main > .page.private:not([hidden])")) turnTo(pages()[0]!);
  return facing;
}
