// Screen and picture: nothing else knows about zoom. Pure.
// Picture pixels are those of the upright picture as taken; screen pixels start at the
// stage's top left corner.

/** @typedef {[number, number]} Point */
/** @typedef {{scale: number, x: number, y: number}} Port  screen = picture * scale + (x, y) */
/** @typedef {{x: number, y: number, width: number, height: number}} Box */
/** @typedef {{width: number, height: number}} Size */

/** Square root of the 95 % point of chi-square with two degrees of freedom (5.991). */
const ELLIPSE_SCALE = 2.4477;
/** A picture pixel is never shown larger than this many screen pixels. */
const MOST_SCALE = 8;
/** How much of the stage the picture must keep when it is pushed aside. */
const KEPT = 0.35;

/** @param {Port} port @param {Point} at @returns {Point} */
export function toScreen(port, [x, y]) {
  return [x * port.scale + port.x, y * port.scale + port.y];
}

/** @param {Port} port @param {Point} at @returns {Point} */
export function toPicture(port, [x, y]) {
  return [(x - port.x) / port.scale, (y - port.y) / port.scale];
}

/** The port that shows a box whole and as large as can be. @param {Box} box @param {Size} stage */
export function fitted(box, stage) {
  const scale = Math.min(stage.width / box.width, stage.height / box.height);
  return {
    scale,
    x: stage.width / 2 - (box.x + box.width / 2) * scale,
    y: stage.height / 2 - (box.y + box.height / 2) * scale,
  };
}

/** Room round the points that show a golfer, and above them for a cap, share of their box. */
const ROOM = 0.07;
const ROOM_ABOVE = 0.15;

/** The box round points with a margin, kept inside the picture.
 * @param {Point[]} points @param {Size} picture @returns {Box} */
export function boxRound(points, picture) {
  if (!points.length) return { x: 0, y: 0, ...picture };
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [top, bottom] = [Math.min(...ys), Math.max(...ys)];
  const large = Math.max(right - left, bottom - top, 1);
  const room = ROOM * large;
  const x = Math.max(0, left - room);
  const y = Math.max(0, top - ROOM_ABOVE * large);
  return {
    x,
    y,
    width: Math.min(picture.width, right + room) - x,
    height: Math.min(picture.height, bottom + room) - y,
  };
}

/** Zoomed about a place on the screen, which stays where it is.
 * @param {Port} port @param {number} factor @param {Point} at */
export function zoomed(port, factor, at) {
  const [x, y] = toPicture(port, at);
  const scale = port.scale * factor;
  return { scale, x: at[0] - x * scale, y: at[1] - y * scale };
}

/** @param {Port} port @param {Point} by */
export function pushed(port, [dx, dy]) {
  return { scale: port.scale, x: port.x + dx, y: port.y + dy };
}

/** Two fingers moved from one pair of places to another.
 * @param {Port} port @param {[Point, Point]} before @param {[Point, Point]} after */
export function pinched(port, before, after) {
  const apart = ([a, b]) => Math.max(Math.hypot(a[0] - b[0], a[1] - b[1]), 1);
  const middle = ([a, b]) => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const [from, to] = [middle(before), middle(after)];
  return pushed(zoomed(port, apart(after) / apart(before), from), [to[0] - from[0], to[1] - from[1]]);
}

/** The port with the picture kept in sight and neither tiny nor huge.
 * @param {Port} port @param {Size} picture @param {Size} stage */
export function held(port, picture, stage) {
  const least = 0.8 * Math.min(stage.width / picture.width, stage.height / picture.height);
  const scale = Math.min(Math.max(port.scale, least), MOST_SCALE);
  const same = scale === port.scale ? port : zoomed(port, scale / port.scale, [stage.width / 2, stage.height / 2]);
  return {
    scale,
    x: between(same.x, KEPT * stage.width - picture.width * scale, (1 - KEPT) * stage.width),
    y: between(same.y, KEPT * stage.height - picture.height * scale, (1 - KEPT) * stage.height),
  };
}

/** The 95 % ellipse of a covariance [xx, xy, yy]: half axes and the turn of the longer one.
 * @param {[number, number, number]} covariance */
export function ellipse([xx, xy, yy]) {
  const middle = (xx + yy) / 2;
  const reach = Math.hypot((xx - yy) / 2, xy);
  return {
    rx: ELLIPSE_SCALE * Math.sqrt(middle + reach),
    ry: ELLIPSE_SCALE * Math.sqrt(Math.max(middle - reach, 0)),
    turn_deg: (Math.atan2(2 * xy, xx - yy) * 90) / Math.PI,
  };
}

/** How much nearer a favoured handle counts than it is. */
const FAVOUR = 0.6;

/** The nearest of some handles within reach; a favoured one counts as nearer than it is.
 * @template H @param {{key: H, at: Point}[]} handles @param {Point} at @param {number} reach
 * @param {(key: H) => boolean} [favoured] @returns {{key: H, at: Point} | null} */
export function nearest(handles, at, reach, favoured = () => false) {
  let best = null;
  let least = reach;
  for (const handle of handles) {
    const away = Math.hypot(handle.at[0] - at[0], handle.at[1] - at[1]);
    const counted = favoured(handle.key) ? FAVOUR * away : away;
    if (away <= reach && counted <= least) [best, least] = [handle, counted];
  }
  return best;
}

/** Where a loupe's middle goes: above the finger, or beside it where there is no room above.
 * @param {Point} at @param {number} radius @param {Size} stage @returns {Point} */
export function besideFinger(at, radius, stage) {
  const gap = radius + 44; // a fingertip and a little, in screen pixels
  const x = between(at[0], radius + 4, stage.width - radius - 4);
  if (at[1] - gap - radius >= 0) return [x, at[1] - gap];
  const left = at[0] > stage.width / 2;
  return [
    between(left ? at[0] - gap - 20 : at[0] + gap + 20, radius + 4, stage.width - radius - 4),
    between(at[1] - 20, radius + 4, stage.height - radius - 4),
  ];
}

/** @param {number} value @param {number} low @param {number} high */
function between(value, low, high) {
  return Math.min(Math.max(value, low), Math.max(low, high));
}
