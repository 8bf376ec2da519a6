/** Points and directions in the job's axes (right, back, up), mm. */
export type Triple = readonly [number, number, number];

export const dot = (a: Triple, b: Triple) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const plus = (a: Triple, b: Triple, times = 1): Triple => [a[0] + b[0] * times, a[1] + b[1] * times, a[2] + b[2] * times];
export const cross = (a: Triple, b: Triple): Triple => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

/** Where the eye stands, as degrees to the right of the front and above it. */
export interface Stand { right: number; above: number }

/** The views by their names (ISO 5456-2; the last by ISO 5456-3). */
export const standardViews: Readonly<Record<string, Stand>> = {
  front: { right: 0, above: 0 }, top: { right: 0, above: 90 }, left: { right: -90, above: 0 }, right: { right: 90, above: 0 },
  bottom: { right: 0, above: -90 }, rear: { right: 180, above: 0 }, isometric: { right: 45, above: Math.atan(Math.SQRT1_2) * 180 / Math.PI },
};

const degrees = Math.PI / 180;
const wrapped = (angle: number) => angle - 360 * Math.round(angle / 360);

/** Looks at the part from far away, so that parallel edges stay parallel. The part's own up stays up. */
export class Eye {
  stand: Stand = { ...standardViews.isometric };
  /** What lies in the middle of the picture, mm. */
  target: Triple = [0, 0, 0];
  mmPerPx = 0.2;
  widthPx = 1;
  heightPx = 1;

  /** Unit direction to the right on the page. */
  get toRight(): Triple {
    const a = this.stand.right * degrees;
    return [Math.cos(a), Math.sin(a), 0];
  }

  /** Unit direction in which the eye looks. */
  get sight(): Triple {
    const a = this.stand.right * degrees, b = this.stand.above * degrees;
    return [-Math.sin(a) * Math.cos(b), Math.cos(a) * Math.cos(b), -Math.sin(b)];
  }

  /** Unit direction up the page. */
  get toUp(): Triple {
    return cross(this.toRight, this.sight);
  }

  /** Where a point is seen, px from the upper left corner. */
  onPage(p: Triple): [number, number] {
    const from = plus(p, this.target, -1);
    return [this.widthPx / 2 + dot(from, this.toRight) / this.mmPerPx, this.heightPx / 2 - dot(from, this.toUp) / this.mmPerPx];
  }

  /** The point in the page's plane through the target that is seen there. */
  fromPage(x: number, y: number): Triple {
    return plus(plus(this.target, this.toRight, (x - this.widthPx / 2) * this.mmPerPx), this.toUp, (this.heightPx / 2 - y) * this.mmPerPx);
  }

  /** Turns the part to the right and downward by so many degrees, as a hand on it would. */
  turn(right: number, down: number): void {
    this.stand = { right: wrapped(this.stand.right - right), above: Math.max(-90, Math.min(90, this.stand.above + down)) };
  }

  /** Moves the part over the page. */
  move(rightPx: number, downPx: number): void {
    this.target = plus(plus(this.target, this.toRight, -rightPx * this.mmPerPx), this.toUp, downPx * this.mmPerPx);
  }

  /** Comes closer (factor above 1) while what is seen at a place stays there. */
  approach(factor: number, x = this.widthPx / 2, y = this.heightPx / 2): void {
    const under = this.fromPage(x, y);
    this.mmPerPx = Math.max(1e-4, Math.min(50, this.mmPerPx / factor));
    this.target = plus(this.target, plus(under, this.fromPage(x, y), -1));
  }

  /** The whole part in the middle of the picture, with room for dimension lines. */
  showWhole(reach: Float32Array, share = 0.7): void {
    const [right, up] = [this.toRight, this.toUp];
    let [lowX, highX, lowY, highY] = [Infinity, -Infinity, Infinity, -Infinity];
    for (let p = 0; p < reach.length; p += 3) {
      const at: Triple = [reach[p], reach[p + 1], reach[p + 2]], x = dot(at, right), y = dot(at, up);
      lowX = Math.min(lowX, x); highX = Math.max(highX, x); lowY = Math.min(lowY, y); highY = Math.max(highY, y);
    }
    if (!(highX >= lowX)) return;
    const depth = dot(this.target, this.sight);
    this.mmPerPx = Math.max((highX - lowX) / (share * this.widthPx), (highY - lowY) / (share * this.heightPx), 1e-4);
    this.target = plus(plus([this.sight[0] * depth, this.sight[1] * depth, this.sight[2] * depth], right, (lowX + highX) / 2), up, (lowY + highY) / 2);
  }

  /** From where the part is seen, in words. */
  get words(): string {
    for (const [name, stand] of Object.entries(standardViews))
      if (Math.abs(wrapped(stand.right - this.stand.right)) < 0.1 && Math.abs(stand.above - this.stand.above) < 0.1) return name;
    const right = Math.round(this.stand.right), above = Math.round(this.stand.above);
    const side = right === 0 ? "from the front" : Math.abs(right) === 180 ? "from the rear" : `${Math.abs(right)}° ${right > 0 ? "right" : "left"} of the front`;
    return above === 0 ? side : `${side}, ${Math.abs(above)}° ${above > 0 ? "above" : "below"}`;
  }
}

/** The standard view that is nearest to a stand. */
export function nearestStandard(stand: Stand): string {
  const eye = new Eye();
  eye.stand = stand;
  const sight = eye.sight;
  let best = "front", most = -Infinity;
  for (const [name, candidate] of Object.entries(standardViews)) {
    eye.stand = candidate;
    const agreement = dot(sight, eye.sight);
    if (agreement > most + 1e-9) { most = agreement; best = name; }
  }
  return best;
}
