// The table of coordinates: the accessible twin of the pictures. It follows and it leads.

import { byCoach, entryOf, placeOf } from "./state.js";

/** @param {HTMLElement} root @param {{now: () => any, act: (action: any) => void}} app */
export function table(root, app) {
  const rows = [...root.querySelectorAll("tr[data-name]")].map((row) => ({
    row,
    key: { view: row.dataset.view, name: row.dataset.name },
    x: row.querySelector("[data-x]"),
    y: row.querySelector("[data-y]"),
    deed: row.querySelector("select"),
    stands: row.querySelector("[data-stands]"),
  }));

  for (const { key, x, y, deed, row } of rows) {
    const place = () => {
      const to = [Number.parseFloat(x.value), Number.parseFloat(y.value)];
      if (to.every(Number.isFinite)) app.act({ type: "move", key, to, stroke: null });
    };
    x.addEventListener("change", place);
    y.addEventListener("change", place);
    deed.addEventListener("change", () => {
      if (deed.value) app.act({ type: deed.value, key });
      deed.value = "";
    });
    row.addEventListener("focusin", () => app.act({ type: "choose", key, look: true }));
  }

  function render() {
    const { state } = app.now();
    for (const { key, x, y, stands, row } of rows) {
      const at = placeOf(state.doc, key);
      for (const [field, value] of [[x, at?.[0]], [y, at?.[1]]]) {
        const text = value === undefined ? "" : value.toFixed(1);
        if (Number.parseFloat(field.value) !== Number.parseFloat(text) && document.activeElement !== field) field.value = text;
      }
      stands.textContent = standing(state.doc, key);
      row.classList.toggle("moved", byCoach(state.doc, key));
    }
  }

  return { render };
}

function standing(doc, key) {
  const entry = entryOf(doc, key);
  if ("not_seen" in entry) return `no place: ${entry.not_seen}`;
  if (!byCoach(doc, key)) return "network’s place";
  const own = entry.proposal;
  return own ? `placed by you; network: ${own.x_px.toFixed(1)}, ${own.y_px.toFixed(1)}` : "placed by you";
}
