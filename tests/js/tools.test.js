import assert from "node:assert/strict";
import test from "node:test";

import { at } from "./where.js";

const { opened, reduce, placeOf } = await import(at("state.js"));
const { IDLE, drag, press, release } = await import(at("tools.js"));
const KNEE = { view: "face_on", name: "lead_knee" };
const HIDDEN = { view: "face_on", name: "trail_ear" };

/** Fingers on a stage of half the picture's scale, on which only a knee can be seen. */
function hand({ chosen = null } = {}) {
  const kept = {
    version: 1,
    hand_sd_px: { face_on: 5 },
    landmarks: {
      views: {
        face_on: {
          picture: { width_px: 1000, height_px: 1200 },
          landmarks: {
            lead_knee: { x_px: 400, y_px: 600, placed_by: "model", covariance_px2: [4, 0, 4] },
            trail_ear: { not_seen: "hidden" },
          },
        },
      },
    },
  };
  let state = { ...opened(kept), chosen };
  let gesture = IDLE;
  let port = { scale: 0.5, x: 0, y: 0 };
  const now = (step) => {
    gesture = step.gesture;
    port = step.port;
    for (const action of step.actions) state = reduce(state, action);
  };
  const finger = (id, x, y, kind) => ({ id, at: [x, y], kind });
  const scene = () => ({ state, view: "face_on", port, stage: { width: 500, height: 600 } });
  return {
    press: (x, y, { id = 1, kind = "touch" } = {}) => now(press(gesture, finger(id, x, y, kind), scene())),
    drag: (x, y, { id = 1, kind = "touch" } = {}) => now(drag(gesture, finger(id, x, y, kind), scene())),
    release: (x, y, { id = 1, kind = "touch" } = {}) => now(release(gesture, finger(id, x, y, kind), scene())),
    place: (key = KNEE) => placeOf(state.doc, key),
    chosen: () => state.chosen,
    port: () => port,
    undo: () => {
      state = reduce(state, { type: "undo" });
    },
  };
}

test("a tap on a point chooses it and does not move it", () => {
  const it = hand();
  it.press(210, 305);
  it.drag(211, 304);
  it.release(211, 304);
  assert.deepEqual(it.chosen(), KNEE);
  assert.deepEqual(it.place(), [400, 600]);
});

test("a dragged point keeps its distance to the finger", () => {
  const it = hand();
  it.press(210, 305);
  it.drag(260, 325);
  it.release(260, 325);
  assert.deepEqual(it.place(), [500, 640]);
});

test("a whole drag is one step to undo, and so is the next", () => {
  const it = hand();
  for (const far of [20, 40]) {
    it.press(200 + far - 20, 300);
    it.drag(200 + far - 10, 300);
    it.drag(200 + far, 300);
    it.release(200 + far, 300);
  }
  assert.deepEqual(it.place(), [480, 600]);
  it.undo();
  assert.deepEqual(it.place(), [440, 600]);
  it.undo();
  assert.deepEqual(it.place(), [400, 600]);
});

test("a finger reaches farther than a mouse", () => {
  const [touch, mouse] = [hand(), hand()];
  touch.press(220, 300);
  mouse.press(220, 300, { kind: "mouse" });
  assert.deepEqual(touch.chosen(), KNEE);
  assert.equal(mouse.chosen(), null);
});

test("one finger beside the points pushes the picture", () => {
  const it = hand();
  it.press(50, 50);
  it.drag(80, 70);
  assert.deepEqual(it.port(), { scale: 0.5, x: 30, y: 20 });
  assert.deepEqual(it.place(), [400, 600]);
});

test("two fingers zoom, and lifting one of them moves nothing", () => {
  const it = hand();
  it.press(100, 300);
  it.press(300, 300, { id: 2 });
  it.drag(400, 300, { id: 2 });
  assert.equal(it.port().scale, 0.75);
  const port = it.port();
  it.release(400, 300, { id: 2 });
  it.drag(10, 10);
  it.release(10, 10);
  assert.deepEqual(it.port(), port);
  assert.deepEqual(it.place(), [400, 600]);
});

test("a second finger during a drag does not tear the point away", () => {
  const it = hand();
  it.press(200, 300);
  it.drag(220, 300);
  it.press(400, 500, { id: 2 });
  it.drag(100, 100, { id: 2 });
  it.drag(230, 300);
  it.release(230, 300);
  assert.deepEqual(it.place(), [460, 600]);
});

test("a tap places the chosen point that has no place, once", () => {
  const it = hand({ chosen: HIDDEN });
  it.press(100, 150);
  it.release(100, 150);
  assert.deepEqual(it.place(HIDDEN), [200, 300]);
  it.press(450, 50);
  it.release(450, 50);
  assert.deepEqual(it.place(HIDDEN), [200, 300]);
  assert.equal(it.chosen(), null);
});
