// Small comforts on every page; each page works without them.

import { drafts } from "./drafts.js";

/** Ask before something is removed for good. */
for (const form of document.querySelectorAll("form[data-ask]")) {
  form.addEventListener("submit", (event) => {
    if (!window.confirm(form.dataset.ask)) event.preventDefault();
  });
}

drafts();

/** Parts of a page that have a script of their own. */
const MODULES = {
  "landmark-editor": () => import("./landmark-editor/main.js").then((m) => m.landmarkEditor),
  take: () => import("./take.js").then((m) => m.take),
  working: () => import("./working.js").then((m) => m.working),
};
for (const each of document.querySelectorAll("[data-module]")) {
  MODULES[each.dataset.module]?.().then((start) => start(each));
}
