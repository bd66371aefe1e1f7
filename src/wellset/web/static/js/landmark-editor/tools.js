// Fingers on a stage: press, drag, release -> the next gesture and what to do. Pure.
// One finger on a point drags it, one finger beside the points pushes the picture, two zoom it,
// a tap places a point that has no place yet.

import { held, nearest, pinched, pushed, toPicture, toScreen } from "./geometry.js";
import { handlesOf, placeOf, sameKey } from "./state.js";

/** @typedef {import("./geometry.js").Point} Point */
/** @typedef {{id: number, at: Point, kind: string}} Finger */
/** @typedef {{state: import("./state.js").State, view: string, port: import("./geometry.js").Port,
 *   stage: import("./geometry.js").Size}} Scene */
/** @typedef {{kind: string, fingers: Object<number, Point>, [more: string]: any}} Gesture */
/** @typedef {{gesture: Gesture, actions: any[], port: import("./geometry.js").Port}} Step */

/** How near a press must be to a handle, and how far it must go to be a drag, in screen pixels. */
const REACH = { mouse: 12, pen: 16, touch: 26 };
const SLACK = { mouse: 1, pen: 3, touch: 5 };

/** @type {Gesture} */
export const IDLE = { kind: "idle", fingers: {} };

/** @param {Scene} scene */
const pictureSize = ({ state, view }) => ({
  width: state.doc.views[view].picture.width_px,
  height: state.doc.views[view].picture.height_px,
});

/** The handle under a finger. @param {Scene} scene @param {Finger} finger */
export function handleAt({ state, view, port }, finger) {
  const handles = handlesOf(state.doc, view).map((key) => ({ key, at: toScreen(port, placeOf(state.doc, key)) }));
  return nearest(handles, finger.at, REACH[finger.kind] ?? REACH.touch, (key) => sameKey(key, state.chosen));
}

/** @param {Gesture} gesture @param {Finger} finger @param {Scene} scene @returns {Step} */
export function press(gesture, finger, scene) {
  const fingers = { ...gesture.fingers, [finger.id]: finger.at };
  if (gesture.kind === "drag" && gesture.moved) return stay({ ...gesture, fingers }, scene);
  if (Object.keys(fingers).length > 1) return stay({ kind: "pinch", fingers }, scene);
  const hit = handleAt(scene, finger);
  if (!hit) return stay({ kind: "push", fingers, from: finger.at, moved: false }, scene);
  return {
    gesture: {
      kind: "drag",
      fingers,
      finger: finger.id,
      key: hit.key,
      from: finger.at,
      // the point keeps its distance to the finger: it does not jump under it
      hold: [hit.at[0] - finger.at[0], hit.at[1] - finger.at[1]],
      moved: false,
      stroke: `drag ${hit.key.view} ${finger.id} ${finger.at}`,
    },
    actions: [{ type: "choose", key: hit.key }],
    port: scene.port,
  };
}

/** @param {Gesture} gesture @param {Finger} finger @param {Scene} scene @returns {Step} */
export function drag(gesture, finger, scene) {
  const old = gesture.fingers[finger.id];
  if (!old) return stay(gesture, scene);
  const fingers = { ...gesture.fingers, [finger.id]: finger.at };
  if (gesture.kind === "pinch") {
    const [a, b] = Object.keys(gesture.fingers).slice(0, 2);
    const port = pinched(scene.port, [gesture.fingers[a], gesture.fingers[b]], [fingers[a], fingers[b]]);
    return { gesture: { ...gesture, fingers }, actions: [], port: held(port, pictureSize(scene), scene.stage) };
  }
  const far = Math.hypot(finger.at[0] - gesture.from?.[0], finger.at[1] - gesture.from?.[1]);
  const moved = gesture.moved || far > (SLACK[finger.kind] ?? SLACK.touch);
  const next = { ...gesture, fingers, moved };
  if (!moved) return stay({ ...gesture }, scene);
  if (gesture.kind === "push") {
    const port = pushed(scene.port, [finger.at[0] - old[0], finger.at[1] - old[1]]);
    return { gesture: next, actions: [], port: held(port, pictureSize(scene), scene.stage) };
  }
  if (gesture.kind !== "drag" || gesture.finger !== finger.id) return stay({ ...gesture, fingers }, scene);
  const to = toPicture(scene.port, [finger.at[0] + gesture.hold[0], finger.at[1] + gesture.hold[1]]);
  const action = { type: "move", key: gesture.key, to, stroke: gesture.stroke };
  return { gesture: next, actions: [action], port: scene.port };
}

/** @param {Gesture} gesture @param {Finger} finger @param {Scene} scene @returns {Step} */
export function release(gesture, finger, scene) {
  const { [finger.id]: _, ...fingers } = gesture.fingers;
  const left = Object.keys(fingers).length;
  if (gesture.kind === "drag" && gesture.finger === finger.id) {
    return { gesture: over(fingers), actions: gesture.moved ? [{ type: "rest" }] : [], port: scene.port };
  }
  if (gesture.kind === "push" && !gesture.moved && !left) {
    return { gesture: IDLE, actions: [tapped(scene, finger)], port: scene.port };
  }
  return stay(gesture.kind === "pinch" ? over(fingers) : { ...(left ? gesture : IDLE), fingers }, scene);
}

/** What is left of a gesture must be lifted before anything new begins. @returns {Gesture} */
function over(fingers) {
  return Object.keys(fingers).length ? { kind: "over", fingers } : IDLE;
}

/** @param {Scene} scene @param {Finger} finger */
function tapped({ state, view, port }, finger) {
  const { chosen } = state;
  const waits = chosen?.name && chosen.view === view && !placeOf(state.doc, chosen);
  return waits
    ? { type: "move", key: chosen, to: toPicture(port, finger.at), stroke: null }
    : { type: "choose", key: null };
}

/** @param {Gesture} gesture @param {Scene} scene @returns {Step} */
function stay(gesture, scene) {
  return { gesture, actions: [], port: scene.port };
}
