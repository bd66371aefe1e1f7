// Wires the editor: the state in the middle; pictures, bar, numbers, table and saving around it.
import { extras } from "./extras.js";
import { numbers, toolbar } from "./panel.js";
import { saving } from "./saving.js";
import { newestOnly, server } from "./server.js";
import { stage } from "./stage.js";
import { isChanged, opened, reduce } from "./state.js";
import { table } from "./table.js";

const PAUSE_MS = 140; // without a new move before the server is asked
const REST_MS = 400; // before it is asked for the first change too, which takes longer

/** @param {HTMLFormElement} form */
export async function landmarkEditor(form) {
  if ("plain" in form.dataset) return; // it holds what was typed, and says what is wrong with it
  const book = server(form.dataset.setup);
  const words = JSON.parse(form.dataset.words);
  let [state, answer, answered, asked, timer] = [opened(await book.load()), null, null, null, 0];
  const app = {
    now: () => ({ state, words, answer, stale: answered !== state.doc }),
    act(action) {
      state = action.type === "open" ? opened(action.kept) : reduce(state, action);
      if (state.doc !== asked) later(action.type === "rest" ? 0 : PAUSE_MS, { doc: state.doc, first: false });
      for (const part of parts) part.render();
      if (action.look) stages.forEach((each) => each.lookAt(state.chosen, action));
    },
  };
  const follow = numbers(form);
  const ask = newestOnly(book.preview, {
    waiting: follow.waiting,
    failed: follow.failed,
    done(told, { doc, first }) {
      [answer, answered] = [told, doc];
      follow.show(told, state);
      if (!first && doc === state.doc && isChanged(state)) later(REST_MS, { doc, first: true });
      stages.forEach((each) => each.render());
    },
  });
  function later(pause, question) {
    window.clearTimeout(timer);
    asked = question.doc;
    timer = window.setTimeout(ask, pause, question);
  }
  form.classList.add("live");
  form.querySelector("[data-editor]").hidden = false;
  form.querySelector("[data-table]").open = false;
  const stages = [...form.querySelectorAll("[data-view][data-width]")].map((box) => stage(box, app));
  const parts = [...stages, toolbar(form, app), table(form, app), extras(form, app), saving(form, app, book)];
  app.act({ type: "rest" });
}
