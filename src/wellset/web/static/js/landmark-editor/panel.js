// The bar of tools, and the measures that follow.

import { byCoach, canRedo, canUndo, entryOf, isChanged, placeOf, proposalOf } from "./state.js";

const MOST_ROWS = 6;
const VERDICTS = { inside: "● inside", outside: "▲ outside", undecided: "◆ undecided" };

const element = (name, className, ...inside) => {
  const made = document.createElement(name);
  if (className) made.className = className;
  made.append(...inside);
  return made;
};

/** @param {HTMLElement} root @param {{now: () => any, act: (action: any) => void}} app */
export function toolbar(root, app) {
  const part = (name) => root.querySelector(`[data-tool="${name}"]`);
  const picker = part("point");
  const choice = (key) => (key?.name ? `${key.view}:${key.name}` : "");
  picker.addEventListener("change", () => {
    const [view, name] = picker.value.split(":");
    app.act({ type: "choose", key: name ? { view, name } : null, look: true, reveal: true });
  });
  const chosen = () => app.now().state.chosen;
  const on = (name, make) => part(name).addEventListener("click", () => app.act(make()));
  on("undo", () => ({ type: "undo" }));
  on("redo", () => ({ type: "redo" }));
  on("back", () => ({ type: "back", key: chosen() }));
  on("rule-out", () => {
    const { view, stick } = chosen();
    return stick === undefined ? { type: "rule out", key: chosen() } : { type: "take stick", view, stick };
  });

  function render() {
    const { state, words } = app.now();
    const key = state.chosen;
    const entry = key?.name ? entryOf(state.doc, key) : null;
    part("undo").disabled = !canUndo(state);
    part("redo").disabled = !canRedo(state);
    picker.value = choice(key);
    // never hidden: the pictures must not jump while a finger is on them
    part("back").disabled = !entry || !byCoach(state.doc, key);
    part("rule-out").disabled = !key || (!!entry && !("x_px" in entry));
    part("rule-out").textContent = key && !entry ? "Take this stick away" : "Cannot be seen";
    part("told").textContent = told(state, words);
  }

  return { render };
}

/** A sentence about what is chosen. */
function told(state, words) {
  const key = state.chosen;
  if (!key) return "Drag a point, or choose one here and use the arrow keys on the picture.";
  if (key.stick !== undefined) return "A stick on the ground: drag its two points along its middle line.";
  const entry = entryOf(state.doc, key);
  if (!placeOf(state.doc, key)) return `The ${words[key.name]} has no place. Tap where it is in the picture.`;
  if (!byCoach(state.doc, key)) return `The ${words[key.name]}, where the network sees it.`;
  const own = proposalOf(entry);
  if (!own) return `The ${words[key.name]}, placed by you; the network did not see it.`;
  const away = Math.hypot(entry.x_px - own.x_px, entry.y_px - own.y_px);
  return `The ${words[key.name]}, placed by you, ${Math.round(away)} pixels from the network’s place.`;
}

/** @param {HTMLElement} root */
export function numbers(root) {
  const part = (name) => root.querySelector(`[data-follow="${name}"]`);

  function row(each) {
    const verdict = VERDICTS[each.verdict];
    const was = each.verdict_before !== each.verdict && VERDICTS[each.verdict_before];
    return element(
      "li",
      "",
      element("b", "", each.title),
      element("span", "values", element("s", "was", each.before), " → ", element("span", "now", each.after)),
      ...(verdict ? [element("span", `verdict ${each.verdict}`, verdict, ...(was ? [element("span", "small", ` (was ${each.verdict_before})`)] : []))] : []),
    );
  }

  /** The most changed measure, for the small bar of a phone. */
  function shortly(answer, changed) {
    const [top] = answer.rows;
    if (!top) return changed ? "No measure has moved" : "Nothing moved yet";
    const more = answer.rows.length > 1 ? ` and ${answer.rows.length - 1} more` : "";
    return `${top.title}: ${top.after}${more}`;
  }

  /** Until the server has told the first change, the kept one stands there, paler. */
  function firstChange({ first, first_before: before }, changed) {
    if (!changed || first === null || first === before) {
      return before ? `First change: ${before}` : "Nothing to change first";
    }
    return `First change: ${first || "nothing"} (was: ${before || "nothing"})`;
  }

  return {
    waiting: () => root.classList.add("waiting"),
    failed(error) {
      root.classList.remove("waiting");
      part("trouble").textContent = error.message;
      part("trouble").hidden = false;
      part("short").textContent = error.told?.what ?? "These points cannot be used";
    },
    show(answer, state) {
      root.classList.remove("waiting");
      part("trouble").hidden = true;
      const changed = isChanged(state);
      part("first").textContent = firstChange(answer, changed);
      part("first").classList.toggle("open", changed && answer.first === null);
      part("rows").replaceChildren(...answer.rows.slice(0, MOST_ROWS).map(row));
      part("more-rows").replaceChildren(...answer.rows.slice(MOST_ROWS).map(row));
      part("more").hidden = answer.rows.length <= MOST_ROWS;
      part("more").querySelector("summary").textContent = `${answer.rows.length - MOST_ROWS} more that moved a little`;
      part("none").hidden = answer.rows.length > 0;
      part("none").textContent = changed
        ? "No measure has moved by as much as is shown."
        : "Nothing has moved yet. Drag a point; what it changes appears here at once.";
      part("notes").replaceChildren(...answer.notes.slice(0, 2).map((note) => element("li", "", note.message)));
      part("short").textContent = shortly(answer, changed);
    },
  };
}
