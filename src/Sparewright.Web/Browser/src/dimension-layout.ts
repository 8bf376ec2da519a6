import { cross, dot, plus, type Eye, type Triple } from "./eye.ts";

/** A distance between two places of the part, measured along a direction. */
export interface Distance { kind: "distance"; text: string; from: Triple; to: Triple; along: Triple; inHand: boolean }

/** A diameter or radius about the axis from end to end; `on` is where its arrow must touch where it is no full circle. */
export interface Round { kind: "round"; text: string; from: Triple; to: Triple; radius: number; on: Triple | null; inHand: boolean }

export type Dimension = Distance | Round;

type Spot = readonly [number, number];

/** A dimension as it is drawn on the page, px. */
export interface Placed {
  text: string;
  inHand: boolean;
  /** Thin lines: extension lines, the dimension line, a leader. */
  lines: [Spot, Spot][];
  /** Tip and direction of each arrow. */
  arrows: { tip: Spot; toward: Spot }[];
  /** Where jaws or arrows touch the part. */
  touches: Spot[];
  /** Middle of the base line of the lettering, and its slope in degrees. */
  at: Spot;
  slope: number;
}

export const lettering = 14;
const firstRow = 26, row = 22, gap = 3, beyond = 5, arrowLength = 9, tail = 18, above = 5, shoulder = 14;

const spot = (p: Spot, d: Spot, times = 1): Spot => [p[0] + d[0] * times, p[1] + d[1] * times];
const along = (p: Spot, d: Spot) => p[0] * d[0] + p[1] * d[1];

/** Roughly how wide a line of lettering is, px. */
export const widthOf = (text: string) => text.length * lettering * 0.58;

/**
 * Places dimensions round the part in the manner of ISO 129-1: lines outside the outline, the shorter ones nearer, in rows that do not run into each other,
 * lettering above its line, to be read from below or from the right. What is seen nearly end-on is left out.
 * @param reach points that bound the part on any page
 */
export function place(dimensions: readonly Dimension[], eye: Eye, reach: Float32Array): Placed[] {
  const rows: { side: string; low: number; high: number; row: number }[] = [], labels: [Spot, number][] = [];
  const seen = dimensions.map(d => d.kind === "distance" ? d : asDistance(d, eye) ?? d);
  const length = (d: Dimension) => d.kind === "distance" ? Math.hypot(...flat(d.along, eye)) * Math.abs(dot(plus(d.to, d.from, -1), d.along)) : Infinity;
  return [...seen].sort((a, b) => length(a) - length(b)).flatMap(d => (d.kind === "distance" ? distance(d, eye, reach, rows, labels) : leader(d, eye, reach, labels)) ?? []);
}

/** How long one mm along a direction is on the page, as a part of its true length. */
export const foreshortened = (direction: Triple, eye: Eye) => Math.hypot(dot(direction, eye.toRight), dot(direction, eye.toUp));

function flat(direction: Triple, eye: Eye): Spot {
  return [dot(direction, eye.toRight) / eye.mmPerPx, -dot(direction, eye.toUp) / eye.mmPerPx];
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

function distance(d: Distance, eye: Eye, reach: Float32Array, rows: { side: string; low: number; high: number; row: number }[], labels: [Spot, number][]): Placed | null {
  if (foreshortened(d.along, eye) < 0.26) return null;
  const page = flat(d.along, eye), scale = Math.hypot(page[0], page[1]);
  let u: Spot = [page[0] / scale, page[1] / scale];
  let p = eye.onPage(d.from), q = eye.onPage(d.to);
  // Lines run to the right, or upward where they stand upright: so lettering is read from below or from the right.
  if (u[0] < -1e-6 || (Math.abs(u[0]) <= 1e-6 && u[1] > 0)) u = [-u[0], -u[1]];
  if (along(q, u) < along(p, u)) [p, q] = [q, p];
  const w: Spot = [u[1], -u[0]]; // upward of the lettering

  let low = Infinity, high = -Infinity;
  for (let k = 0; k < reach.length; k += 3) {
    const at = along(eye.onPage([reach[k], reach[k + 1], reach[k + 2]]), w);
    low = Math.min(low, at); high = Math.max(high, at);
  }
  // The distance meant is along u only: both ends are carried out square to it.
  const start = along(p, u), end = along(q, u), lettered = widthOf(d.text);
  const pw = along(p, w), qw = along(q, w);
  const toHigh = 2 * high - pw - qw < pw + qw - 2 * low;
  const inside = end - start >= 2 * arrowLength + 6, fits = end - start >= lettered + (inside ? 2 * arrowLength : 0);
  const spanLow = start - (inside ? 0 : tail), spanHigh = fits ? end + (inside ? 0 : tail) : end + (inside ? 4 : tail) + lettered;
  const side = `${Math.round(u[0] * 20)} ${Math.round(u[1] * 20)} ${toHigh}`;
  const middle = fits ? (start + end) / 2 : end + (inside ? 4 : tail - 4) + lettered / 2;

  let step = 0, offset = 0, at: Spot = [0, 0];
  for (; step < 12; step++) {
    offset = toHigh ? high + firstRow + step * row : low - firstRow - step * row;
    at = [u[0] * middle + w[0] * (offset + above), u[1] * middle + w[1] * (offset + above)];
    if (!rows.some(r => r.side === side && r.row === step && r.low < spanHigh + 4 && r.high > spanLow - 4) && !crowded(at, lettered, labels)) break;
  }
  rows.push({ side, low: spanLow, high: spanHigh, row: step });
  // A part that fills the picture keeps its dimensions within it.
  const half = Math.abs(w[0]) * eye.widthPx / 2 + Math.abs(w[1]) * eye.heightPx / 2 - 20, centre = along([eye.widthPx / 2, eye.heightPx / 2], w);
  offset = Math.max(centre - half, Math.min(centre + half - (toHigh ? lettering : 0), offset));
  at = [u[0] * middle + w[0] * (offset + above), u[1] * middle + w[1] * (offset + above)];
  labels.push([at, lettered]);

  const on = (t: number, height: number): Spot => [u[0] * t + w[0] * height, u[1] * t + w[1] * height];
  const extension = (t: number, from: number): [Spot, Spot] => {
    const outward = Math.sign(offset - from) || 1;
    return [on(t, from + outward * gap), on(t, offset + outward * beyond)];
  };
  const out: Spot = [-u[0], -u[1]];
  return {
    text: d.text, inHand: d.inHand,
    lines: [extension(start, pw), extension(end, qw), [on(inside ? start : start - tail, offset), on(inside ? (fits ? end : spanHigh) : spanHigh, offset)]],
    arrows: [{ tip: on(start, offset), toward: inside ? out : u }, { tip: on(end, offset), toward: inside ? u : out }],
    touches: d.inHand ? [p, q] : [],
    at, slope: Math.atan2(u[1], u[0]) * 180 / Math.PI,
  };
}

/** A diameter or radius seen as a circle: an arrow onto it, a leader outward, the lettering on a level shoulder. */
function leader(round: Round, eye: Eye, reach: Float32Array, labels: [Spot, number][]): Placed | null {
  const end = dot(round.from, eye.sight) <= dot(round.to, eye.sight) ? round.from : round.to;
  const middle = eye.onPage(end), lettered = widthOf(round.text);
  let box: [number, number, number, number] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let k = 0; k < reach.length; k += 3) {
    const [x, y] = eye.onPage([reach[k], reach[k + 1], reach[k + 2]]);
    box = [Math.min(box[0], x), Math.max(box[1], x), Math.min(box[2], y), Math.max(box[3], y)];
  }
  const toward = round.on ? [directionOf(middle, eye.onPage(round.on))] : [-40, -140, 40, 140, -65, -115, 65, 115, -20, -160, 20, 160].map(a => [Math.cos(a * Math.PI / 180), Math.sin(a * Math.PI / 180)] as Spot);
  let best: { at: Spot; elbow: Spot; tip: Spot; d: Spot; cost: number } | null = null;
  for (const d of toward)
    for (let more = 0; more < 6; more++) {
      const tip = round.on ? eye.onPage(round.on) : onCircle(round, end, d, eye);
      const out = leaves(tip, d, box) + 14 + 16 * more, elbow = spot(tip, d, out), at: Spot = [elbow[0] + (d[0] < 0 ? -1 : 1) * (shoulder + lettered / 2), elbow[1] - above];
      const cost = out + (crowded(at, lettered, labels) ? 1e4 : 0) + (at[0] - lettered / 2 < 4 || at[0] + lettered / 2 > eye.widthPx - 4 || at[1] < 16 || at[1] > eye.heightPx - 6 ? 1e3 : 0);
      if (!best || cost < best.cost - 1e-6) best = { at, elbow, tip, d, cost };
    }
  if (!best) return null;
  labels.push([best.at, lettered]);
  const { elbow, tip, d, at } = best, far: Spot = [elbow[0] + (d[0] < 0 ? -1 : 1) * (shoulder + lettered), elbow[1]];
  return { text: round.text, inHand: round.inHand, lines: [[tip, elbow], [elbow, far]], arrows: [{ tip, toward: [-d[0], -d[1]] }], touches: round.inHand ? [tip] : [], at, slope: 0 };
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
  return length < 1e-6 ? [0.7, -0.7] : [x / length, y / length];
}

/** How far it is from a place in a direction until the part's box is left. */
function leaves(p: Spot, d: Spot, [left, right, top, bottom]: [number, number, number, number]): number {
  const x = d[0] > 0 ? (right - p[0]) / d[0] : d[0] < 0 ? (left - p[0]) / d[0] : Infinity;
  const y = d[1] > 0 ? (bottom - p[1]) / d[1] : d[1] < 0 ? (top - p[1]) / d[1] : Infinity;
  return Math.max(0, Math.min(x, y));
}

function crowded(at: Spot, width: number, labels: [Spot, number][]): boolean {
  return labels.some(([other, wide]) => Math.abs(at[1] - other[1]) < lettering + 2 && Math.abs(at[0] - other[0]) < (width + wide) / 2 + 6);
}
