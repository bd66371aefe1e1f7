// Saving: over the version that was opened; where somebody else saved meanwhile, the coach is asked.

import { isChanged } from "./state.js";

/** @param {HTMLFormElement} form @param {{now: () => any, act: (action: any) => void}} app
 * @param {ReturnType<typeof import("./server.js").server>} book */
export function saving(form, app, book) {
  const dialog = document.getElementById("newer-points");
  const buttons = [...form.querySelectorAll("[data-save]")];
  const trouble = form.querySelector("[data-save-trouble]");
  let leaving = false;

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    save(app.now().state.version);
  });
  window.addEventListener("beforeunload", (event) => {
    if (!leaving && isChanged(app.now().state)) event.preventDefault();
  });

  async function save(version) {
    busy(true);
    trouble.hidden = true;
    try {
      const { id } = await book.save(app.now().state.doc, version);
      leaving = true;
      window.location.assign(`/setups/${encodeURIComponent(id)}`);
      return;
    } catch (error) {
      if (error.status === 409) await newer().catch(tell);
      else tell(error);
    }
    if (!leaving) busy(false);
  }

  /** Somebody else saved: load theirs, save ours over them, or go on. */
  async function newer() {
    const kept = await book.load();
    const answer = await askWhich(dialog);
    if (answer === "load") app.act({ type: "open", kept });
    if (answer === "over") await save(kept.version);
  }

  function tell(error) {
    trouble.textContent = error.message;
    trouble.hidden = false;
    trouble.scrollIntoView({ block: "nearest" });
  }

  function busy(is) {
    for (const button of buttons) {
      button.disabled = is;
      button.textContent = is ? "Saving …" : button.dataset.save;
    }
  }

  return {
    render() {
      form.classList.toggle("changed", isChanged(app.now().state));
    },
  };
}

/** @param {HTMLDialogElement} dialog @returns {Promise<string>} "load", "over" or "" */
function askWhich(dialog) {
  dialog.returnValue = "";
  dialog.showModal();
  return new Promise((resolve) => {
    dialog.addEventListener("close", () => resolve(dialog.returnValue), { once: true });
  });
}
