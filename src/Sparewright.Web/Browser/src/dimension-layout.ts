import { cross, dot, plus, standardViews, type Eye, type Triple } from "./eye.ts";

/** A distance between two places of the part, measured along a direction. */
export interface Distance { kind: "distance"; text: string; from: Triple; to: Triple; along: Triple; inHand: boolean }

/** A diameter or radius about the axis from end to end; `on` is where its arrow must touch where it is no full circle. */
export interface Round { kind: "round"; text: string; from: Triple; to: Triple; radius: number; on: Triple | null; inHand: boolean }

export type Dimension = Distance | Round;

export type Spot = readonly [number, number];
type Line = readonly [Spot, Spot];

/** A dimension as it is drawn on the page, px. */
export interface Placed {
  text: string;
  inHand: boolean;
  /** Thin lines: extension lines, the dimension line, a leader. */
  lines: Line[];
  /** Tip and direction of each arrow. */
  arrows: { tip: Spot; toward: Spot }[];
  /** Where jaws touch the part. */
  touches: Spot[];
  /** Middle of the base line of the lettering, and the direction in which it is read. */
  at: Spot;
  reads: Spot;
}

export const lettering = 14;
const firstRow = 24, rowHeight = 22, gap = 3, beyond = 5, arrowLength = 9, tail = 18, above = 5, shoulder = 14, margin = 6;
/** Kept free at the foot of the picture, for the scale. */
const foot = 30;
/** A row farther out than this says less than it costs. */
const mostRows = 6;

const along = (p: Spot, d: Spot) => p[0] * d[0] + p[1] * d[1];
const moved = (p: Spot, d: Spot, times: number): Spot => [p[0] + d[0] * times, p[1] + d[1] * times];

/** Roughly how wide a line of lettering is, px. */
export const widthOf = (text: string) => text.length * lettering * 0.58;

/** How long one mm along a direction is on the page, as a part of its true length. */
export const foreshortened = (direction: Triple, eye: Eye) => Math.hypot(dot(direction, eye.toRight), dot(direction, eye.toUp));

/**
 * Places dimensions round the part in the manner of ISO 129-1: lines outside the outline, the shorter ones nearer, in rows that do not run into each other,
 * lettering above its line and clear of other lines, to be read from below or from the right. One that is not seen truly, or for which no room is left,
 * is left out; the one in hand never is, unless it is seen end-on.
 * @param reach points that bound the part on any page
 */
export function place(dimensions: readonly Dimension[], eye: Eye, reach: Float32Array): Placed[] {
  const page = new Page(eye, reach), placed: Placed[] = [];
  const isStandard = standardViews[eye.words] !== undefined && eye.words !== "isometric";
  const seen = dimensions.map(d => d.kind === "distance" ? d : asDistance(d, eye) ?? d);
  const length = (d: Dimension) => d.inHand ? -1 : d.kind === "distance" ? Math.abs(dot(plus(d.to, d.from, -1), d.along)) : Infinity;
  for (const d of seen.sort((a, b) => length(a) - length(b))) {
    if (d.kind === "distance" && foreshortened(d.along, eye) < (d.inHand ? 0.26 : isStandard ? 0.999 : 0.7)) continue;
    const tries = d.kind === "distance" ? distance(d, page) : leader(d, page);
    let first: Placed | null = null, free: Placed | null = null;
    for (const candidate of tries) {
      first ??= candidate;
      if (page.isOn(candidate) && !placed.some(other => disturb(candidate, other))) { free = candidate; break; }
    }
    const chosen = free ?? (d.inHand ? first : null);
    if (chosen) placed.push(chosen);
  }
  return placed;
}

/** What is known of the page once for all dimensions. */
class Page {
  readonly eye: Eye;
  private readonly points: Spot[] = [];

  constructor(eye: Eye, reach: Float32Array) {
    this.eye = eye;
    for (let k = 0; k < reach.length; k += 3) this.points.push(eye.onPage([reach[k], reach[k + 1], reach[k + 2]]));
  }

  /** How far the part reaches along a direction of the page. */
  extent(d: Spot): [number, number] {
    let low = Infinity, high = -Infinity;
    for (const p of this.points) { const at = along(p, d); low = Math.min(low, at); high = Math.max(high, at); }
    return [low, high];
  }

  isOn(placed: Placed): boolean {
    return [...corners(placed), ...placed.lines.flat()].every(([x, y]) => x > margin && y > margin && x < this.eye.widthPx - margin && y < this.eye.heightPx - foot);
  }
}

/** Seen from the side, a diameter is a distance across the nearer end of its axis; null where it is seen as a circle or arc. */
function asDistance(round: Round, eye: Eye): Distance | null {
  const axis = plus(round.to, round.from, -1), length = Math.sqrt(dot(axis, axis));
  if (round.on || length < 1e-9) return null;
  const unit: Triple = [axis[0] / length, axis[1] / length, axis[2] / length];
  if (Math.abs(dot(unit, eye.sight)) > 0.5) return null;
  const across = cross(unit, eye.sight), size = Math.sqrt(dot(across, across));
  const direction: Triple = [across[0] / size, across[1] / size, across[2] / size];
  const end = dot(round.from, eye.sight) <= dot(round.to, eye.sight) ? round.from : round.to;
  return { kind: "distance", text: round.text, from: plus(end, direction, -round.radius), to: plus(end, direction, round.radius), along: direction, inHand: round.inHand };
}

/** Places for a dimension line, the best first: on the side where the extension lines are shorter, in the row nearest to the part. */
function* distance(d: Distance, page: Page): Generator<Placed> {
  const { eye } = page, x = dot(d.along, eye.toRight), y = -dot(d.along, eye.toUp), scale = Math.hypot(x, y);
  let u: Spot = [x / scale, y / scale], p = eye.onPage(d.from), q = eye.onPage(d.to);
  // Lines run to the right, or upward where they stand upright: so lettering is read from below or from the right.
  if (u[0] < -1e-6 || (Math.abs(u[0]) <= 1e-6 && u[1] > 0)) u = [-u[0], -u[1]];
  if (along(q, u) < along(p, u)) [p, q] = [q, p];
  const w: Spot = [u[1], -u[0]], [low, high] = page.extent(w);
  // The distance meant is along u only: both ends are carried out square to it.
  const start = along(p, u), end = along(q, u), pw = along(p, w), qw = along(q, w), lettered = widthOf(d.text);
  const inside = end - start >= 2 * arrowLength + 6, fits = inside ? end - start >= lettered + 2 * arrowLength : end - start >= lettered + 4;
  const lineFrom = inside ? start : start - tail, lineTo = fits ? (inside ? end : end + tail) : (inside ? end : end + arrowLength) + 5 + lettered;
  const middle = fits ? (start + end) / 2 : lineTo - lettered / 2;
  const on = (t: number, height: number): Spot => [u[0] * t + w[0] * height, u[1] * t + w[1] * height];
  const at = (offset: number): Placed => {
    const extension = (t: number, from: number): Line => [on(t, from + (Math.sign(offset - from) || 1) * gap), on(t, offset + (Math.sign(offset - from) || 1) * beyond)];
    const out: Spot = [-u[0], -u[1]];
    return {
      text: d.text, inHand: d.inHand, lines: [extension(start, pw), extension(end, qw), [on(lineFrom, offset), on(lineTo, offset)]],
      arrows: [{ tip: on(start, offset), toward: inside ? out : u }, { tip: on(end, offset), toward: inside ? u : out }],
      touches: d.inHand ? [p, q] : [], at: on(middle, offset + above), reads: u,
    };
  };
  const toHigh = 2 * high - pw - qw <= pw + qw - 2 * low;
  for (let row = 0; row < mostRows; row++)
    for (const up of [toHigh, !toHigh]) yield at(up ? high + firstRow + row * rowHeight : low - firstRow - row * rowHeight);
  // A part that fills the picture has its line across itself.
  const half = Math.abs(w[0]) * eye.widthPx / 2 + Math.abs(w[1]) * eye.heightPx / 2 - 30, centre = along([eye.widthPx / 2, eye.heightPx / 2], w);
  for (const up of [toHigh, !toHigh]) yield at(Math.max(centre - half, Math.min(centre + half, up ? high + firstRow : low - firstRow)));
}

/** Places for a diameter or radius seen as a circle: an arrow onto it, a leader outward, the lettering on a level shoulder. */
function* leader(round: Round, page: Page): Generator<Placed> {
  const { eye } = page, end = dot(round.from, eye.sight) <= dot(round.to, eye.sight) ? round.from : round.to;
  const centre = eye.onPage(end), lettered = widthOf(round.text), onArc = round.on ? eye.onPage(round.on) : null;
  const degrees = [-40, -140, 40, 140, -65, -115, 65, 115, -20, -160, 20, 160];
  const toward: Spot[] = onArc ? [directionOf(centre, onArc)] : degrees.map(a => [Math.cos(a * Math.PI / 180), Math.sin(a * Math.PI / 180)]);
  const [left, right] = page.extent([1, 0]), [top, bottom] = page.extent([0, 1]);
  const tries = toward.flatMap(d => {
    const tip = onArc ?? onCircle(round, end, d, eye), side = d[0] < 0 ? -1 : 1;
    const x = d[0] > 0 ? (right - tip[0]) / d[0] : d[0] < 0 ? (left - tip[0]) / d[0] : Infinity, y = d[1] > 0 ? (bottom - tip[1]) / d[1] : d[1] < 0 ? (top - tip[1]) / d[1] : Infinity;
    const out = Math.max(0, Math.min(x, y));
    return [0, 1, 2, 3].map(step => {
      const far = out + 14 + 17 * step, elbow = moved(tip, d, far);
      const placed: Placed = {
        text: round.text, inHand: round.inHand, lines: [[tip, elbow], [elbow, [elbow[0] + side * (shoulder + lettered), elbow[1]]]],
        arrows: [{ tip, toward: [-d[0], -d[1]] }], touches: [], at: [elbow[0] + side * (shoulder + lettered / 2), elbow[1] - above], reads: [1, 0],
      };
      return { far, placed };
    });
  });
  for (const { placed } of tries.sort((a, b) => a.far - b.far)) yield placed;
}

/** The point of the circle whose direction from the middle is nearest to one on the page. */
function onCircle(round: Round, centre: Triple, d: Spot, eye: Eye): Spot {
  const axis = plus(round.to, round.from, -1), length = Math.sqrt(dot(axis, axis)) || 1, unit: Triple = [axis[0] / length, axis[1] / length, axis[2] / length];
  const wanted = plus([eye.toRight[0] * d[0], eye.toRight[1] * d[0], eye.toRight[2] * d[0]], eye.toUp, -d[1]);
  const inPlane = plus(wanted, unit, -dot(wanted, unit)), size = Math.sqrt(dot(inPlane, inPlane)) || 1;
  return eye.onPage(plus(centre, [inPlane[0] / size, inPlane[1] / size, inPlane[2] / size], round.radius));
}

function directionOf(from: Spot, to: Spot): Spot {
  const x = to[0] - from[0], y = to[1] - from[1], length = Math.hypot(x, y);
  return length < 1e-6 ? [Math.SQRT1_2, -Math.SQRT1_2] : [x / length, y / length];
}

/** The corners of a label, its middle on the base line. */
function corners({ at, reads, text }: Placed): Spot[] {
  const w: Spot = [reads[1], -reads[0]], half = widthOf(text) / 2;
  return [[-half, -2], [half, -2], [half, lettering], [-half, lettering]].map(([s, t]) => [at[0] + reads[0] * s + w[0] * t, at[1] + reads[1] * s + w[1] * t]);
}

/** Whether lettering of the one meets lettering or lines of the other, or two lines would lie on each other. */
function disturb(a: Placed, b: Placed): boolean {
  const edges = (p: Placed): Line[] => { const c = corners(p); return c.map((from, k) => [from, c[(k + 1) % 4]]); };
  return edges(a).some(e => edges(b).some(f => meet(e, f))) || b.lines.some(l => crosses(l, a)) || a.lines.some(l => crosses(l, b))
    || meet(a.lines[a.lines.length - 1], b.lines[b.lines.length - 1]) || lieOnEachOther(a, b);
}

/** Whether a line runs into a label. */
function crosses([from, to]: Line, label: Placed): boolean {
  const c = corners(label), w: Spot = [label.reads[1], -label.reads[0]], half = widthOf(label.text) / 2;
  const isIn = (p: Spot) => { const s = along([p[0] - label.at[0], p[1] - label.at[1]], label.reads), t = along([p[0] - label.at[0], p[1] - label.at[1]], w); return Math.abs(s) < half && t > -2 && t < lettering; };
  return isIn(from) || isIn(to) || c.some((corner, k) => meet([from, to], [corner, c[(k + 1) % 4]]));
}

/** Dimension lines in the same direction need a row each, or room beside each other. */
function lieOnEachOther(a: Placed, b: Placed): boolean {
  const [l, m] = [a.lines[a.lines.length - 1], b.lines[b.lines.length - 1]], u = directionOf(...l), v = directionOf(...m), w: Spot = [u[1], -u[0]];
  if (Math.abs(u[0] * v[1] - u[1] * v[0]) > 0.05 || Math.abs(along(l[0], w) - along(m[0], w)) > rowHeight - 4) return false;
  const [a0, a1] = [along(l[0], u), along(l[1], u)], m0 = along(m[0], u), m1 = along(m[1], u);
  return Math.min(Math.max(m0, m1), Math.max(a0, a1)) > Math.max(Math.min(m0, m1), Math.min(a0, a1)) - 4;
}

function meet([a, b]: Line, [c, d]: Line): boolean {
  const side = (p: Spot, q: Spot, r: Spot) => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}
