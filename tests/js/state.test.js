import assert from "node:assert/strict";
import test from "node:test";

import { at } from "./where.js";

const s = await import(at("state.js"));
const KNEE = { view: "face_on", name: "lead_knee" };
const HIDDEN = { view: "face_on", name: "trail_ear" };
const SEEN = { x_px: 400, y_px: 900, placed_by: "model", covariance_px2: [4, 0, 4], disagreement_px: 1 };
const STICK = { ends_px: [[10, 1500], [800, 1490]], sd_px: 0.7, ends_are_tips: true, placed_by: "model" };

/** Frozen to the bottom: whoever changes anything in place is found out. */
function frozen(value) {
  if (value && typeof value === "object") Object.values(value).forEach(frozen);
  return Object.freeze(value);
}

const fresh = () =>
  frozen(
    s.opened({
      version: 3,
      hand_sd_px: { face_on: 5 },
      landmarks: {
        schema: "wellset.landmarks/1",
        views: {
          face_on: {
            picture: { width_px: 1512, height_px: 2016 },
            landmarks: { lead_knee: SEEN, trail_ear: { not_seen: "hidden by the cap" } },
            sticks: [STICK],
          },
        },
      },
    }),
  );
const after = (state, ...actions) => actions.reduce((now, action) => frozen(s.reduce(now, action)), state);
const move = (to, stroke = null, key = KNEE) => ({ type: "move", key, to, stroke });

test("a moved point keeps the network's proposal beside it, however often it is moved", () => {
  const moved = after(fresh(), move([410, 905]), move([420, 910.123456]));
  assert.deepEqual(s.entryOf(moved.doc, KNEE), { x_px: 420, y_px: 910.12, placed_by: "coach", proposal: SEEN });
});

test("a point given back is just as the network placed it", () => {
  const back = after(fresh(), move([410, 905]), { type: "back", key: KNEE });
  assert.deepEqual(s.entryOf(back.doc, KNEE), SEEN);
});

test("a point that cannot be seen keeps the proposal and comes back", () => {
  const out = after(fresh(), { type: "rule out", key: KNEE });
  assert.deepEqual(s.entryOf(out.doc, KNEE), { not_seen: s.RULED_OUT, proposal: SEEN });
  assert.equal(s.placeOf(out.doc, KNEE), null);
  assert.ok(s.byCoach(out.doc, KNEE));
  assert.deepEqual(s.entryOf(after(out, { type: "back", key: KNEE }).doc, KNEE), SEEN);
});

test("a point without a place can be placed and taken away again", () => {
  const placed = after(fresh(), move([700, 300], null, HIDDEN));
  assert.deepEqual(s.placeOf(placed.doc, HIDDEN), [700, 300]);
  assert.deepEqual(s.entryOf(after(placed, { type: "back", key: HIDDEN }).doc, HIDDEN), { not_seen: s.NO_VALUE });
});

test("one stroke of a finger is one step to undo", () => {
  const start = fresh();
  const moved = after(start, move([401, 900], "a"), move([402, 900], "a"), move([403, 900], "a"));
  assert.equal(after(moved, { type: "undo" }).doc, start.doc);
  const twice = after(moved, { type: "rest" }, move([500, 900], "b"));
  assert.equal(after(twice, { type: "undo" }).doc, moved.doc);
});

test("undo and redo lead back and forth, and a new move forgets what was undone", () => {
  const moved = after(fresh(), move([410, 900]), move([420, 900]));
  const back = after(moved, { type: "undo" }, { type: "undo" });
  assert.ok(!s.isChanged(back) && !s.canUndo(back) && s.canRedo(back));
  assert.equal(after(back, { type: "redo" }, { type: "redo" }).doc, moved.doc);
  assert.ok(!s.canRedo(after(back, move([1, 1]))));
});

test("undo with nothing to undo changes nothing", () => {
  const start = fresh();
  assert.equal(after(start, { type: "undo" }), start);
  assert.equal(after(start, { type: "redo" }), start);
});

test("a point cannot leave the picture", () => {
  assert.deepEqual(s.placeOf(after(fresh(), move([-50, 99999])).doc, KNEE), [0, 2016]);
});

test("arrow keys move the chosen point by a pixel, with shift by ten", () => {
  const { doc } = fresh();
  assert.equal(s.nudgeStep(doc, "face_on", false), 1);
  assert.equal(s.nudgeStep(doc, "face_on", true), 10);
  const nudged = after(fresh(), { type: "choose", key: KNEE }, { type: "nudge", by: [0, -10], stroke: "k" });
  assert.deepEqual(s.placeOf(nudged.doc, KNEE), [400, 890]);
  const start = fresh();
  assert.equal(after(start, { type: "nudge", by: [1, 0], stroke: "k" }), start);
});

test("a moved stick is the coach's, and the found one stays in the file", () => {
  const key = { view: "face_on", stick: 0, end: 1 };
  const moved = after(fresh(), move([700, 1480], "a", key), move([710, 1480], "a", key));
  const view = moved.doc.views.face_on;
  assert.deepEqual(view.sticks, [
    { ends_px: [[10, 1500], [710, 1480]], sd_px: 5, ends_are_tips: true, placed_by: "coach" },
  ]);
  assert.deepEqual(view.replaced_sticks, [STICK]);
  const back = after(moved, { type: "found sticks", view: "face_on" }).doc.views.face_on;
  assert.deepEqual(back.sticks, [STICK]);
  assert.equal(back.replaced_sticks, undefined);
});

test("a stick can be laid where none was found, and a found one taken away", () => {
  const laid = after(fresh(), { type: "lay stick", view: "face_on", ends: [[5, 5], [9, 9]] });
  assert.equal(laid.doc.views.face_on.sticks.length, 2);
  const taken = after(fresh(), { type: "take stick", view: "face_on", stick: 0 });
  assert.deepEqual(taken.doc.views.face_on.sticks, []);
  assert.deepEqual(taken.doc.views.face_on.replaced_sticks, [STICK]);
});

test("stepping goes round all points that have a place", () => {
  const step = (by) => ({ type: "step", view: "face_on", by });
  const first = after(fresh(), step(1));
  assert.deepEqual(first.chosen, KNEE);
  assert.deepEqual(after(first, step(1)).chosen, KNEE);
  assert.deepEqual(after(fresh(), move([1, 1], null, HIDDEN), step(-1)).chosen, KNEE);
});

test("an action nobody knows is an error", () => {
  assert.throws(() => s.reduce(fresh(), { type: "fly" }), /no such action: fly/);
});
