// Small things round the pictures: undo keys, points without a place, sticks, what is read aloud.

import { placeOf } from "./state.js";

const STICK_SHARE = 0.25; // length of a new stick, share of the picture's width

/** @param {HTMLFormElement} form @param {{now: () => any, act: (action: any) => void}} app */
export function extras(form, app) {
  form.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.target.matches("input")) return;
    const key = event.key.toLowerCase();
    const type = key === "y" || (key === "z" && event.shiftKey) ? "redo" : key === "z" ? "undo" : null;
    if (!type) return;
    event.preventDefault();
    app.act({ type });
  });

  const boxes = [...form.querySelectorAll("[data-view][data-width]")].map((box) => ({
    view: box.dataset.view,
    unplaced: box.querySelector("[data-unplaced]"),
    found: box.querySelector("[data-found-sticks]"),
    frame: box.querySelector("[data-frame]"),
    list: box.querySelector("[data-unplaced-list]"),
    shown: "",
  }));
  for (const { view, found, list, frame } of boxes) {
    found.addEventListener("click", () => app.act({ type: "found sticks", view }));
    frame.parentElement.querySelector("[data-lay-stick]").addEventListener("click", () => {
      const { width_px: width, height_px: height } = app.now().state.doc.views[view].picture;
      const ball = placeOf(app.now().state.doc, { view, name: "ball" }) ?? [width / 2, 0.8 * height];
      const half = (STICK_SHARE * width) / 2;
      const y = ball[1] + 0.02 * height;
      app.act({ type: "lay stick", view, ends: [[ball[0] - half, y], [ball[0] + half, y]] });
    });
    list.addEventListener("click", (event) => {
      const { name } = event.target.dataset;
      if (!name) return;
      app.act({ type: "choose", key: { view, name } });
      frame.focus({ preventScroll: true });
    });
  }

  const say = form.querySelector("[data-say]");

  function render() {
    const { state, words } = app.now();
    for (const box of boxes) {
      const view = state.doc.views[box.view];
      const missing = Object.keys(view.landmarks).filter((name) => !("x_px" in view.landmarks[name]));
      if (missing.join() !== box.shown) {
        box.shown = missing.join();
        box.unplaced.hidden = !missing.length;
        box.list.replaceChildren(...missing.map((name) => chip(name, words[name])));
      }
      box.found.hidden = !view.replaced_sticks?.length && !view.sticks?.some((each) => each.placed_by === "coach");
    }
    const at = state.chosen && placeOf(state.doc, state.chosen);
    const spoken = state.chosen?.name ? words[state.chosen.name] : "stick";
    say.textContent = at ? `${spoken}: ${at[0].toFixed(0)} across, ${at[1].toFixed(0)} down` : "";
  }

  return { render };
}

function chip(name, words) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "chip";
  button.dataset.name = name;
  button.textContent = words;
  return button;
}
