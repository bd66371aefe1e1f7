// Draws a picture's points from the state; keeps none itself. Screen pixels of the stage.

import { ellipse, toScreen } from "./geometry.js";
import { byCoach, entryOf, handlesOf, placeOf, proposalOf, sameKey } from "./state.js";

const SVG = "http://www.w3.org/2000/svg";
const LIMBS = ["shoulder elbow wrist", "hip knee ankle", "ankle shoe_heel shoe_toe"].map((limb) => limb.split(" "));
const ACROSS = [["trail_shoulder", "lead_shoulder"], ["trail_hip", "lead_hip"]];
const CLUB = ["grip_end", "grip_mid", "shaft_end", "club_head"];
const BACK = ["c7", "t8", "t12", "l3", "s1"];
const FRONT = ["nose", "sternum"];

/** @typedef {{state: import("./state.js").State, view: string, port: import("./geometry.js").Port,
 *   stage: import("./geometry.js").Size, answer: any, stale: boolean, words: Object<string, string>}} Scene */

/** @param {string} name @param {Object<string, string | number>} attributes @param {...(Node | string)} inside */
export function draw(name, attributes = {}, ...inside) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  made.append(...inside);
  return made;
}

/** Put the picture where the port says. @param {SVGElement} image @param {import("./geometry.js").Port} port */
export function layPicture(image, port) {
  image.setAttribute("transform", `translate(${port.x} ${port.y}) scale(${port.scale})`);
}

/** Everything over the picture. @param {SVGElement} layer @param {Scene} scene */
export function paint(layer, scene, { loupe = false } = {}) {
  layer.replaceChildren(
    ...(loupe ? [] : guides(scene)),
    ...bones(scene),
    ...(loupe ? [] : plumb(scene)),
    ...sheets(scene),
    ...sticks(scene),
    ...spots(scene, loupe),
  );
}

const place = (scene, name) => placeOf(scene.state.doc, { view: scene.view, name });
const points = (scene, list) => list.map((at) => toScreen(scene.port, at).map((v) => v.toFixed(1)).join(",")).join(" ");

/** A line with a dark casing, so that it shows on sky and turf alike. */
function cased(scene, list, kind) {
  if (list.length < 2) return [];
  const drawn = points(scene, list);
  return [
    draw("polyline", { points: drawn, class: "casing" }),
    draw("polyline", { points: drawn, class: `line ${kind}` }),
  ];
}

function guides(scene) {
  const lines = scene.answer?.views[scene.view]?.lines ?? [];
  const group = draw("g", { class: scene.stale ? "guides stale" : "guides" });
  for (const line of lines) group.append(...cased(scene, line.points_px, line.role));
  return [group];
}

function bones(scene) {
  const chain = (names, kind) => cased(scene, names.map((name) => place(scene, name)).filter(Boolean), kind);
  const sides = ["trail", "lead"].flatMap((side) =>
    LIMBS.flatMap((limb) => chain(limb.map((part) => `${side}_${part}`), side)),
  );
  const middle = scene.view === "down_the_line" ? chain(BACK, "lead") : chain(FRONT, "lead");
  return [...sides, ...ACROSS.flatMap((pair) => chain(pair, "lead")), ...middle, ...chain(CLUB, "club")];
}

/** The plumb line through the chosen point; it follows the finger. */
function plumb(scene) {
  const { chosen, doc } = scene.state;
  if (chosen?.view !== scene.view || !chosen.name) return [];
  const at = placeOf(doc, chosen);
  const up = scene.answer?.views[scene.view]?.up[chosen.name];
  if (!at || !up) return [];
  const far = (scene.stage.height + scene.stage.width) / scene.port.scale;
  return cased(scene, [-far, far].map((way) => [at[0] + way * up[0], at[1] + way * up[1]]), "through");
}

function sheets(scene) {
  const markers = scene.state.doc.views[scene.view].markers ?? [];
  return markers.flatMap((marker) => cased(scene, [...marker.corners_px, marker.corners_px[0]], "stick"));
}

function sticks(scene) {
  return (scene.state.doc.views[scene.view].sticks ?? []).flatMap((stick) => cased(scene, stick.ends_px, "stick"));
}

/** Handles last, so that nothing covers them; the chosen one on top. */
function spots(scene, loupe) {
  const { doc, chosen } = scene.state;
  const ordered = handlesOf(doc, scene.view).sort((a, b) => sameKey(a, chosen) - sameKey(b, chosen));
  return ordered.flatMap((key) => {
    const isChosen = sameKey(key, chosen);
    const at = toScreen(scene.port, placeOf(doc, key));
    return [
      ...(key.name ? [...spread(scene, key, at), ...ghost(scene, key, at, isChosen)] : []),
      handle(key, at, { isChosen, coach: byCoach(doc, key), loupe }),
      ...(isChosen && !loupe ? name(scene, key, at) : []),
    ];
  });
}

/** The 95 % ellipse. */
function spread(scene, key, [x, y]) {
  const entry = entryOf(scene.state.doc, key);
  const sd = entry.sd_px ?? scene.state.handSd[key.view];
  const { rx, ry, turn_deg } = ellipse(entry.covariance_px2 ?? [sd * sd, 0, sd * sd]);
  const shown = { rx: rx * scene.port.scale, ry: ry * scene.port.scale };
  const turn = `translate(${x} ${y}) rotate(${turn_deg})`;
  return [draw("ellipse", { ...shown, transform: turn, class: "spread" })];
}

/** Where the network had a point that was moved. */
function ghost(scene, key, at, isChosen) {
  const own = proposalOf(entryOf(scene.state.doc, key));
  if (!own || !byCoach(scene.state.doc, key)) return [];
  const [x, y] = toScreen(scene.port, [own.x_px, own.y_px]);
  const tie = { x1: x, y1: y, x2: at[0], y2: at[1] };
  return [
    draw("line", { ...tie, class: isChosen ? "tie chosen" : "tie" }),
    draw("circle", { cx: x, cy: y, r: 5, class: "ghost-casing" }),
    draw("circle", { cx: x, cy: y, r: 5, class: "ghost" }),
  ];
}

function handle(key, [x, y], { isChosen, coach, loupe }) {
  const group = draw("g", { transform: `translate(${x.toFixed(1)} ${y.toFixed(1)})`, class: "handle" });
  if (isChosen) {
    const ring = loupe ? 22 : 15;
    group.append(draw("circle", { r: ring, class: "ring-casing" }), draw("circle", { r: ring, class: "ring" }));
  }
  if (loupe && isChosen) {
    const cross = "M-14 0H-4M4 0H14M0-14V-4M0 4V14";
    group.append(draw("path", { d: cross, class: "cross-casing" }), draw("path", { d: cross, class: "cross" }));
  } else if (key.stick !== undefined) {
    group.append(draw("rect", { x: -5, y: -5, width: 10, height: 10, class: "spot stick-end" }));
  } else if (coach) {
    group.append(draw("path", { d: "M0-7.5L7.5 0L0 7.5L-7.5 0Z", class: "spot coach" }));
  } else {
    group.append(draw("circle", { r: 4.2, class: "spot model" }));
  }
  return group;
}

function name(scene, key, [x, y]) {
  const words = key.name ? scene.words[key.name] : "stick on the ground";
  const width = 8 * words.length + 18; // a letter of this size and boldness takes about 7.6 pixels
  const right = x + 22 + width < scene.stage.width;
  const left = right ? x + 22 : Math.max(x - 22 - width, 4);
  const top = Math.min(Math.max(y - 13, 4), scene.stage.height - 30);
  return [
    draw("rect", { x: left, y: top, width, height: 26, rx: 5, class: "tag" }),
    draw("text", { x: left + width / 2, y: top + 18, class: "tag-words" }, words),
  ];
}
