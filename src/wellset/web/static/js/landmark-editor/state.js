// What is being edited: (state, action) -> state. Undo is a list of documents. Pure.
// The document is the landmark file itself: pixels of the full upright picture as taken.

/** @typedef {import("./geometry.js").Point} Point */
/** @typedef {{x_px: number, y_px: number, placed_by: string, covariance_px2?: [number, number, number],
 *   sd_px?: number, proposal?: Entry}} Placed */
/** @typedef {{not_seen: string, proposal?: Placed}} NotSeen */
/** @typedef {Placed | NotSeen} Entry */
/** @typedef {{ends_px: [Point, Point], sd_px: number, ends_are_tips?: boolean, placed_by: string}} Stick */
/** @typedef {{view: string, name: string} | {view: string, stick: number, end: number}} Key */
/** @typedef {{views: Object<string, {picture: {width_px: number, height_px: number},
 *   landmarks: Object<string, Entry>, sticks?: Stick[], replaced_sticks?: Stick[]}>}} Doc */
/** @typedef {{doc: Doc, kept: Doc, past: Doc[], future: Doc[], chosen: Key | null, version: number,
 *   stroke: string | null, handSd: Object<string, number>}} State */

export const RULED_OUT = "ruled out by the coach";
export const NO_VALUE = "not seen by the networks";
const MOST_UNDO = 200;

/** @param {{version: number, landmarks: Doc, hand_sd_px: Object<string, number>}} kept @returns {State} */
export function opened(kept) {
  return {
    doc: kept.landmarks,
    kept: kept.landmarks,
    past: [],
    future: [],
    chosen: null,
    version: kept.version,
    stroke: null,
    handSd: kept.hand_sd_px,
  };
}

/** @param {Key | null} a @param {Key | null} b */
export function sameKey(a, b) {
  return !!a && !!b && a.view === b.view && a.name === b.name && a.stick === b.stick && a.end === b.end;
}

/** @param {Doc} doc @param {Key} key @returns {Entry} */
export function entryOf(doc, key) {
  return doc.views[key.view].landmarks[key.name];
}

/** What the networks proposed. @param {Entry | undefined} entry @returns {Placed | null} */
export function proposalOf(entry) {
  if (entry && "x_px" in entry && entry.placed_by === "model") return entry;
  return entry?.proposal ?? null;
}

/** Where a handle is, or null where a point has no place. @param {Doc} doc @param {Key} key @returns {Point | null} */
export function placeOf(doc, key) {
  if (key.stick !== undefined) return doc.views[key.view].sticks?.[key.stick]?.ends_px[key.end] ?? null;
  const entry = entryOf(doc, key);
  return entry && "x_px" in entry ? [entry.x_px, entry.y_px] : null;
}

/** @param {Doc} doc @param {Key} key */
export function byCoach(doc, key) {
  if (key.stick !== undefined) return doc.views[key.view].sticks[key.stick].placed_by === "coach";
  const entry = entryOf(doc, key);
  return "x_px" in entry ? entry.placed_by === "coach" : entry.not_seen === RULED_OUT || !!entry.proposal;
}

/** Everything of a picture that can be taken hold of. @param {Doc} doc @param {string} view @returns {Key[]} */
export function handlesOf(doc, view) {
  const { landmarks, sticks } = doc.views[view];
  const points = Object.keys(landmarks).filter((name) => "x_px" in landmarks[name]);
  return [
    ...(sticks ?? []).flatMap((_, stick) => [0, 1].map((end) => ({ view, stick, end }))),
    ...points.map((name) => ({ view, name })),
  ];
}

/** One step of an arrow key: half a thousandth of the picture's height, ten times that with shift.
 * @param {Doc} doc @param {string} view @param {boolean} large */
export function nudgeStep(doc, view, large) {
  const step = Math.max(1, Math.round(doc.views[view].picture.height_px / 2000));
  return large ? 10 * step : step;
}

/** @param {State} state */
export const canUndo = (state) => state.past.length > 0;
/** @param {State} state */
export const canRedo = (state) => state.future.length > 0;
/** @param {State} state */
export const isChanged = (state) => state.doc !== state.kept;

/** @param {State} state @param {any} action @returns {State} */
export function reduce(state, action) {
  switch (action.type) {
    case "choose":
      return { ...state, chosen: action.key, stroke: null };
    case "move":
      return changed(state, moved(state, action.key, action.to), { stroke: action.stroke, chosen: action.key });
    case "nudge": {
      const at = state.chosen && placeOf(state.doc, state.chosen);
      if (!at) return state;
      const to = [at[0] + action.by[0], at[1] + action.by[1]];
      return reduce(state, { type: "move", key: state.chosen, to, stroke: action.stroke });
    }
    case "step":
      return { ...state, chosen: stepped(state, action.view, action.by), stroke: null };
    case "back":
      return changed(state, withEntry(state.doc, action.key, given(entryOf(state.doc, action.key))));
    case "rule out":
      return changed(state, withEntry(state.doc, action.key, ruledOut(entryOf(state.doc, action.key))));
    case "lay stick":
      return changed(state, laid(state, action.view, action.ends));
    case "take stick":
      return { ...changed(state, taken(state.doc, action.view, action.stick)), chosen: null };
    case "found sticks":
      return { ...changed(state, found(state.doc, action.view)), chosen: null };
    case "undo":
      return turned(state, state.past, state.future, "past");
    case "redo":
      return turned(state, state.future, state.past, "future");
    case "rest":
      return { ...state, stroke: null };
    default:
      throw new Error(`no such action: ${action.type}`);
  }
}

/** The next or previous point of a picture that has a place.
 * @param {State} state @param {string} view @param {number} by @returns {Key | null} */
function stepped({ doc, chosen }, view, by) {
  const keys = handlesOf(doc, view).filter((key) => key.name);
  if (!keys.length) return null;
  const at = keys.findIndex((key) => sameKey(key, chosen));
  return at < 0 ? keys[by > 0 ? 0 : keys.length - 1] : keys[(at + by + keys.length) % keys.length];
}

/** @param {State} state @param {Doc} doc @returns {State} */
function changed(state, doc, { stroke = null, chosen = state.chosen } = {}) {
  if (doc === state.doc) return { ...state, chosen };
  const goesOn = stroke !== null && stroke === state.stroke;
  const past = goesOn ? state.past : [...state.past, state.doc].slice(-MOST_UNDO);
  return { ...state, doc, past, future: [], stroke, chosen };
}

/** @param {State} state @param {Doc[]} from @param {Doc[]} to @param {"past" | "future"} side @returns {State} */
function turned(state, from, to, side) {
  if (!from.length) return state;
  const rest = from.slice(0, -1);
  const other = [...to, state.doc];
  const [past, future] = side === "past" ? [rest, other] : [other, rest];
  const doc = from[from.length - 1];
  const { chosen } = state;
  const stays = chosen && (chosen.stick === undefined || placeOf(doc, chosen));
  return { ...state, doc, past, future, stroke: null, chosen: stays ? chosen : null };
}

/** @param {State} state @param {Key} key @param {Point} to @returns {Doc} */
function moved(state, key, to) {
  const { doc } = state;
  const [x, y] = inside(doc, key.view, to);
  if (key.stick !== undefined) return stickMoved(state, key, [x, y]);
  const old = entryOf(doc, key);
  if ("x_px" in old && old.x_px === x && old.y_px === y) return doc;
  const proposal = proposalOf(old);
  const entry = { x_px: x, y_px: y, placed_by: "coach", ...(proposal ? { proposal } : {}) };
  return withEntry(doc, key, entry);
}

/** Rounded as the file rounds, and not off the picture. @returns {Point} */
function inside(doc, view, [x, y]) {
  const { width_px: width, height_px: height } = doc.views[view].picture;
  const tidy = (value, most) => Math.round(Math.min(Math.max(value, 0), most) * 100) / 100;
  return [tidy(x, width), tidy(y, height)];
}

/** @param {Entry} entry @returns {Entry} */
function given(entry) {
  return proposalOf(entry) ?? ("not_seen" in entry ? entry : { not_seen: NO_VALUE });
}

/** @param {Entry} entry @returns {Entry} */
function ruledOut(entry) {
  const proposal = proposalOf(entry);
  return { not_seen: RULED_OUT, ...(proposal ? { proposal } : {}) };
}

/** @param {Doc} doc @param {Key} key @param {Entry} entry @returns {Doc} */
function withEntry(doc, key, entry) {
  if (entryOf(doc, key) === entry) return doc;
  const view = doc.views[key.view];
  return withView(doc, key.view, { ...view, landmarks: { ...view.landmarks, [key.name]: entry } });
}

function withView(doc, name, view) {
  return { ...doc, views: { ...doc.views, [name]: view } };
}

/** Found sticks that give way stay in the file. */
function keepingFound(view, stick) {
  return stick?.placed_by === "model" ? [...(view.replaced_sticks ?? []), stick] : view.replaced_sticks;
}

function withSticks(doc, name, sticks, replaced) {
  const { replaced_sticks: _, ...view } = doc.views[name];
  const kept = replaced?.length ? { replaced_sticks: replaced } : {};
  return withView(doc, name, { ...view, sticks, ...kept });
}

/** @param {State} state @param {Key} key @param {Point} to @returns {Doc} */
function stickMoved({ doc, handSd }, key, to) {
  const view = doc.views[key.view];
  const old = view.sticks[key.stick];
  const ends_px = old.ends_px.map((end, i) => (i === key.end ? to : end));
  if (ends_px[0][0] === ends_px[1][0] && ends_px[0][1] === ends_px[1][1]) return doc;
  const laidAnew = { ...old, ends_px, sd_px: handSd[key.view], placed_by: "coach" };
  const sticks = view.sticks.map((stick, i) => (i === key.stick ? laidAnew : stick));
  return withSticks(doc, key.view, sticks, keepingFound(view, old));
}

function laid({ doc, handSd }, name, ends) {
  const ends_px = ends.map((end) => inside(doc, name, end));
  const stick = { ends_px, sd_px: handSd[name], ends_are_tips: false, placed_by: "coach" };
  const view = doc.views[name];
  return withSticks(doc, name, [...(view.sticks ?? []), stick], view.replaced_sticks);
}

function taken(doc, name, number) {
  const view = doc.views[name];
  const sticks = view.sticks.filter((_, i) => i !== number);
  return withSticks(doc, name, sticks, keepingFound(view, view.sticks[number]));
}

function found(doc, name) {
  const view = doc.views[name];
  const own = (view.sticks ?? []).filter((stick) => stick.placed_by === "model");
  return withSticks(doc, name, [...own, ...(view.replaced_sticks ?? [])], []);
}
