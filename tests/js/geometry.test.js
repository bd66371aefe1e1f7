import assert from "node:assert/strict";
import test from "node:test";

import { at } from "./where.js";

const g = await import(at("geometry.js"));
const PICTURE = { width: 3000, height: 4000 };
const STAGE = { width: 390, height: 600 };
const close = (a, b) => a.forEach((v, i) => assert.ok(Math.abs(v - b[i]) < 1e-9, `${a} is not ${b}`));

test("a place on the screen and in the picture lead to each other", () => {
  const port = { scale: 0.37, x: -120, y: 41 };
  close(g.toPicture(port, g.toScreen(port, [812.5, 1204.25])), [812.5, 1204.25]);
});

test("a fitted box touches the stage on its longer side and lies in the middle", () => {
  const port = g.fitted({ x: 1000, y: 500, width: 1000, height: 3000 }, STAGE);
  close(g.toScreen(port, [1500, 500]), [195, 0]);
  close(g.toScreen(port, [1500, 3500]), [195, 600]);
});

test("zooming keeps what lies under the finger", () => {
  const port = g.fitted({ x: 0, y: 0, ...PICTURE }, STAGE);
  const under = g.toPicture(port, [100, 200]);
  close(g.toScreen(g.zoomed(port, 2.5, [100, 200]), under), [100, 200]);
});

test("both points under two fingers stay under them when they part without turning", () => {
  const port = { scale: 0.2, x: 10, y: 20 };
  const [before, after] = [[[100, 300], [200, 300]], [[60, 350], [260, 350]]];
  const next = g.pinched(port, before, after);
  before.forEach((finger, i) => close(g.toScreen(next, g.toPicture(port, finger)), after[i]));
});

test("a picture cannot be pushed or zoomed out of sight", () => {
  for (const port of [{ scale: 0.1, x: 9e4, y: -9e4 }, { scale: 1e-6, x: 0, y: 0 }, { scale: 1e6, x: 0, y: 0 }]) {
    const held = g.held(port, PICTURE, STAGE);
    const [left, top] = g.toScreen(held, [0, 0]);
    const [right, bottom] = g.toScreen(held, [PICTURE.width, PICTURE.height]);
    assert.ok(left < STAGE.width && right > 0 && top < STAGE.height && bottom > 0);
    assert.ok(held.scale >= 0.1 && held.scale <= 8);
  }
});

// A covariance with variances 9 and 4 along axes turned by 30 degrees, multiplied out by hand:
// xx = 9 cos² + 4 sin², yy = 9 sin² + 4 cos², xy = (9 - 4) sin cos.
// 5.991 is the 95 % point of chi-square with two degrees of freedom in any table.
test("the ellipse of a covariance has the axes and turn it was made from", () => {
  const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
  const { rx, ry, turn_deg } = g.ellipse([9 * c * c + 4 * s * s, 5 * s * c, 9 * s * s + 4 * c * c]);
  assert.ok(Math.abs(rx - 3 * Math.sqrt(5.991)) < 1e-3);
  assert.ok(Math.abs(ry - 2 * Math.sqrt(5.991)) < 1e-3);
  assert.ok(Math.abs(turn_deg - 30) < 1e-9);
});

test("the nearest handle is taken, and the chosen one where both are about as near", () => {
  const handles = [{ key: "knee", at: [10, 0] }, { key: "hand", at: [-8, 0] }, { key: "far", at: [90, 0] }];
  assert.equal(g.nearest(handles, [0, 0], 20).key, "hand");
  assert.equal(g.nearest(handles, [0, 0], 20, (key) => key === "knee").key, "knee");
  assert.equal(g.nearest(handles, [-7, 0], 20, (key) => key === "knee").key, "hand");
  assert.equal(g.nearest(handles, [40, 40], 20), null);
});

test("the loupe stays on the stage and never lies under the finger", () => {
  for (const finger of [[5, 5], [385, 5], [195, 300], [5, 595], [385, 595], [195, 100]]) {
    const [x, y] = g.besideFinger(finger, 68, STAGE);
    assert.ok(x >= 68 && x <= STAGE.width - 68 && y >= 68 && y <= STAGE.height - 68, `${finger}`);
    assert.ok(Math.hypot(x - finger[0], y - finger[1]) > 68 + 10, `${finger}`);
  }
});

test("the box round a golfer keeps inside the picture", () => {
  const box = g.boxRound([[10, 20], [2990, 3990]], PICTURE);
  assert.deepEqual(box, { x: 0, y: 0, ...PICTURE });
});
