// Shows how far the work on a set-up is, and the findings as soon as they are there.

const PAUSE_MS = 400;

/** @param {HTMLElement} box */
export function working(box) {
  const step = box.querySelector("[data-step]");
  const bar = box.querySelector("progress");
  async function look() {
    try {
      const answer = await fetch(box.dataset.source, { headers: { accept: "application/json" } });
      const now = await answer.json();
      if (now.state !== "working") {
        window.location.reload();
        return;
      }
      step.textContent = now.step;
      bar.value = now.share;
    } catch {
      step.textContent = "The connection is gone; trying again.";
    }
    window.setTimeout(look, PAUSE_MS);
  }
  window.setTimeout(look, PAUSE_MS);
}
