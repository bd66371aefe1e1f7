// One picture: fingers, keys and wheel in, actions out; looks after its own zoom.

import { besideFinger, boxRound, fitted, held, toScreen, zoomed } from "./geometry.js";
import { handlesOf, nudgeStep, placeOf } from "./state.js";
import { IDLE, drag, handleAt, press, release } from "./tools.js";
import { draw, layPicture, paint } from "./view.js";

const LOUPE = 68; // radius, screen pixels
const LOUPE_ZOOM = 2.6;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const ENLARGED = 1.05; // beyond this a finger pushes the picture, below it scrolls the page
const LOUPE_STAYS_MS = 1200;

/** @param {HTMLElement} box @param {{now: () => any, act: (action: any) => void}} app */
export function stage(box, app) {
  const { view } = box.dataset;
  const picture = { width: Number(box.dataset.width), height: Number(box.dataset.height) };
  const frame = box.querySelector("[data-frame]");
  const svg = frame.querySelector("svg");
  const [image, layer, loupe] = prepared(svg, frame, picture);
  let port = null;
  let gesture = IDLE;
  let size = { width: 0, height: 0 };
  let nudged = 0;
  let home = 1; // scale at which the golfer fills the stage

  const scene = () => ({ ...app.now(), view, port, stage: size });

  function show(next) {
    port = held(next, picture, size);
    render();
  }

  const isEnlarged = () => port.scale > ENLARGED * home;

  function wholeGolfer() {
    const { doc } = app.now().state;
    const placed = handlesOf(doc, view).filter((key) => key.name).map((key) => placeOf(doc, key));
    const whole = fitted(boxRound(placed, picture), size);
    home = whole.scale;
    show(whole);
  }

  function render() {
    if (!port) return;
    layPicture(image, port);
    paint(layer, scene());
    frame.classList.toggle("zoomed", isEnlarged());
    magnify();
  }

  function magnify() {
    const { state, words, answer } = app.now();
    const at = state.chosen?.view === view ? placeOf(state.doc, state.chosen) : null;
    const busy = (gesture.kind === "drag" && gesture.moved) || nudged > 0;
    loupe.box.toggleAttribute("hidden", !at || !busy);
    if (!at || !busy) return;
    const scale = Math.max(port.scale * LOUPE_ZOOM, 1);
    const inside = { scale, x: LOUPE - at[0] * scale, y: LOUPE - at[1] * scale };
    const [x, y] = besideFinger(toScreen(port, at), LOUPE, size);
    loupe.box.style.left = `${x - LOUPE}px`;
    loupe.box.style.top = `${y - LOUPE}px`;
    layPicture(loupe.image, inside);
    const small = { width: 2 * LOUPE, height: 2 * LOUPE };
    paint(loupe.layer, { state, words, answer, view, port: inside, stage: small }, { loupe: true });
  }

  function finger(event) {
    const { left, top } = frame.getBoundingClientRect();
    return { id: event.pointerId, at: [event.clientX - left, event.clientY - top], kind: event.pointerType };
  }

  function follow(step) {
    gesture = step.gesture;
    if (step.port !== port) show(step.port);
    for (const action of step.actions) app.act(action);
    if (!step.actions.length) magnify();
  }

  frame.addEventListener("pointerdown", (event) => {
    if (event.button > 0) return;
    frame.setPointerCapture(event.pointerId);
    nudged = 0;
    follow(press(gesture, finger(event), scene()));
  });
  frame.addEventListener("pointermove", (event) => follow(drag(gesture, finger(event), scene())));
  for (const end of ["pointerup", "pointercancel"]) {
    frame.addEventListener(end, (event) => {
      if (event.pointerId in gesture.fingers) follow(release(gesture, finger(event), scene()));
    });
  }
  // A finger on a point or on an enlarged picture is ours; any other scrolls the page.
  frame.addEventListener("touchstart", (event) => {
    const { left, top } = frame.getBoundingClientRect();
    const [touch] = event.changedTouches;
    const at = [touch.clientX - left, touch.clientY - top];
    const ours = event.touches.length > 1 || isEnlarged() || handleAt(scene(), { id: 0, at, kind: "touch" });
    if (ours) event.preventDefault();
  }, { passive: false });
  frame.addEventListener("wheel", (event) => {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    show(zoomed(port, Math.exp(-event.deltaY / 240), finger(event).at));
  }, { passive: false });
  frame.addEventListener("dblclick", (event) => show(zoomed(port, 2, finger(event).at)));

  const middle = () => {
    const { state } = app.now();
    const at = state.chosen?.view === view ? placeOf(state.doc, state.chosen) : null;
    return at ? toScreen(port, at) : [size.width / 2, size.height / 2];
  };
  const zooms = {
    in: () => show(zoomed(port, 1.5, middle())),
    out: () => show(zoomed(port, 1 / 1.5, middle())),
    golfer: wholeGolfer,
    all: () => show(fitted({ x: 0, y: 0, ...picture }, size)),
  };
  for (const button of box.querySelectorAll("[data-zoom]")) {
    button.addEventListener("click", () => zooms[button.dataset.zoom]());
  }

  frame.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { state } = app.now();
    const chosen = state.chosen?.view === view ? state.chosen : null;
    const by = ARROWS[event.key];
    if (by && chosen && placeOf(state.doc, chosen)) {
      const step = nudgeStep(state.doc, view, event.shiftKey);
      seeNudge();
      app.act({ type: "nudge", by: [by[0] * step, by[1] * step], stroke: `keys ${nudgeRun}` });
    } else if (by || event.key === "PageDown" || event.key === "n") {
      app.act({ type: "step", view, by: 1, look: true });
    } else if (event.key === "PageUp" || event.key === "p") {
      app.act({ type: "step", view, by: -1, look: true });
    } else if (event.key === "+" || event.key === "=") {
      zooms.in();
    } else if (event.key === "-") {
      zooms.out();
    } else if (event.key === "0") {
      wholeGolfer();
    } else if (event.key === "b" && chosen?.name) {
      app.act({ type: "back", key: chosen });
    } else if (event.key === "Delete" && chosen) {
      app.act(chosen.name ? { type: "rule out", key: chosen } : { type: "take stick", view, stick: chosen.stick });
    } else if (event.key === "Enter" && chosen?.name && !placeOf(state.doc, chosen)) {
      const to = [(size.width / 2 - port.x) / port.scale, (size.height / 2 - port.y) / port.scale];
      app.act({ type: "move", key: chosen, to, stroke: null });
    } else if (event.key === "Escape") {
      app.act({ type: "choose", key: null });
    } else {
      return;
    }
    event.preventDefault();
  });

  let nudgeRun = 0;
  /** The loupe shows while keys are pressed and a moment longer; a run of presses is one step to undo. */
  function seeNudge() {
    window.clearTimeout(nudged);
    nudged = window.setTimeout(() => {
      nudged = 0;
      nudgeRun += 1;
      magnify();
    }, LOUPE_STAYS_MS);
  }

  new ResizeObserver(() => {
    const next = { width: frame.clientWidth, height: frame.clientHeight };
    if (!next.width || (next.width === size.width && next.height === size.height)) return;
    size = next;
    svg.setAttribute("viewBox", `0 0 ${size.width} ${size.height}`);
    wholeGolfer();
  }).observe(frame);

  /** Brings a chosen point into sight, and its picture too when that was asked for. */
  function lookAt(key, { reveal = false }) {
    if (key?.view !== view || !port) return;
    if (reveal) frame.scrollIntoView({ block: "nearest" });
    const at = placeOf(app.now().state.doc, key);
    if (!at) return;
    const [x, y] = toScreen(port, at);
    if (x > 12 && y > 12 && x < size.width - 12 && y < size.height - 12) return;
    show({ ...port, x: port.x + size.width / 2 - x, y: port.y + size.height / 2 - y });
  }

  return { render, lookAt };
}

/** The server's still drawing gives way to layers that move. */
function prepared(svg, frame, picture) {
  const href = svg.querySelector("image").getAttribute("href");
  const picturePart = () => draw("image", { href, ...picture, preserveAspectRatio: "none" });
  const [image, layer] = [picturePart(), draw("g")];
  svg.replaceChildren(image, layer);
  svg.removeAttribute("role");
  svg.removeAttribute("aria-label");
  svg.setAttribute("aria-hidden", "true");
  const glass = draw("svg", { viewBox: `0 0 ${2 * LOUPE} ${2 * LOUPE}`, "aria-hidden": "true" });
  const inner = { image: picturePart(), layer: draw("g") };
  glass.append(inner.image, inner.layer);
  const box = document.createElement("div");
  box.className = "loupe";
  box.hidden = true;
  box.append(glass);
  frame.append(box);
  return [image, layer, { box, ...inner }];
}
