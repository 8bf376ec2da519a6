import { Drawn } from "./drawn.ts";
import { foreshortened, type Dimension } from "./dimension-layout.ts";
import { dot, Eye, plus, standardViews, type Stand, type Triple } from "./eye.ts";
import { boundaries, facetNormals, type Cut } from "./lines.ts";
import { readMargin, type Extreme } from "./margin-field.ts";
import { Overlay } from "./overlay.ts";
import { faceOfPoint, outermost, readMesh, type PartMesh } from "./part-mesh.ts";
import { Picker } from "./pick.ts";
import { chosen, named, Shaded, type Inks } from "./shaded.ts";

/** What the page hears from the picture. */
interface Page { invokeMethodAsync(name: "FacePicked" | "ShadingLost", ...args: unknown[]): Promise<unknown> }

/** One solid: where its mesh and views are fetched, and its faces in words. */
interface Part { key: string; mesh: string; views: string; words: string[]; inches: boolean }

/** What stands out: faces picked, faces only spoken of, and dimensions. */
interface Look { chosen: number[]; named: number[]; dimensions: Dimension[]; margin?: Margin | null }

/** The margin on the surface: where it is fetched, and where it is least. */
interface Margin extends Extreme { address: string }

const turnStep = 15, moveStep = 40, closer = 1.25, turnPerPx = 0.4, clickPx = 4, narrowPx = 420, turnMs = 220, slowMs = 60;
const cutNormals: Record<string, Triple> = { right: [1, 0, 0], back: [0, -1, 0], up: [0, 0, 1] };

/** The choice of unit that this browser keeps (Readings/UnitSwitch.razor.js). */
function keptUnit(): string | null {
  try { return localStorage.getItem("sparewright.unit"); } catch { return null; }
}

/** The picture of the part in one window: the shaded or the drawn one, with its controls. Everything is drawn on demand only. */
class PartView {
  private readonly root: HTMLElement;
  private readonly page: Page;
  private readonly canvas: HTMLCanvasElement;
  private readonly stage: HTMLElement;
  private readonly overlay: Overlay;
  private readonly drawn: Drawn;
  private readonly eye = new Eye();
  private readonly stop = new AbortController();
  private readonly sized: ResizeObserver;
  private readonly themed: MutationObserver;
  private shaded: Shaded | null = null;
  private isLost = false;
  private prefersDrawn = false;
  private part: Part | null = null;
  private mesh: PartMesh | null = null;
  private facets: Float32Array = new Float32Array();
  private faceOf: Float32Array = new Float32Array();
  private reach: Float32Array = new Float32Array();
  private low: Triple = [0, 0, 0];
  private high: Triple = [0, 0, 0];
  private picker: Picker | null = null;
  private dimensions: Dimension[] = [];
  private chosenFaces = new Set<number>();
  private namedFaces = new Set<number>();
  private chosenBounds: number[] = [];
  private namedBounds: number[] = [];
  private cut: Cut | null = null;
  private cutAtMm = 0;
  private frame = 0;
  private turning = 0;
  private newest = 0;
  private margin: Margin | null = null;
  private marginShown = "";

  constructor(root: HTMLElement, page: Page) {
    this.root = root;
    this.page = page;
    this.stage = one(root, ".stage");
    this.canvas = one(root, "canvas");
    this.overlay = new Overlay(one(root, "svg.over"));
    this.drawn = new Drawn(one(root, ".drawn"), () => this.redraw());
    try {
      this.shaded = new Shaded(this.canvas);
    } catch {
      // Without WebGL the drawn views stand in.
    }
    this.repaint();
    this.listen();
    this.sized = new ResizeObserver(() => this.fitStage());
    this.sized.observe(this.stage);
    this.themed = new MutationObserver(() => this.repaint());
    this.themed.observe(document.documentElement, { attributes: true });
    this.fitStage();
    // On a narrow page the long list would push everything else away.
    if (root.clientWidth < narrowPx) one<HTMLDetailsElement>(root, "details.faces").open = false;
  }

  /** Fetches a solid and shows it with what stands out, all in one frame; one that came late, after a newer was asked for, is left. */
  async show(part: Part, look: Look): Promise<boolean> {
    if (this.part?.key === part.key) {
      this.part = part;
      this.refreshCut();
      this.look(look);
      return true;
    }
    const turn = ++this.newest;
    const answer = await fetch(part.mesh).catch(() => null);
    if (!answer?.ok || turn !== this.newest) return false;
    const mesh = readMesh(await answer.arrayBuffer());
    if (turn !== this.newest) return false;

    const isFirst = this.mesh === null;
    this.part = part;
    this.mesh = mesh;
    this.facets = facetNormals(mesh);
    this.faceOf = faceOfPoint(mesh);
    this.reach = outermost(mesh);
    this.measureBox();
    this.picker = null;
    this.shaded?.show(mesh, this.facets, this.faceOf);
    this.marginShown = "";
    this.drawn.show(part.views);
    this.refreshCut();
    if (isFirst) this.eye.showWhole(this.reach, this.share);
    this.look(look);
    // At once: the next frame may be a while away.
    cancelAnimationFrame(this.frame);
    this.draw();
    // The tree for picking is planted once the picture stands.
    setTimeout(() => {
      this.picker ??= this.mesh === mesh ? new Picker(mesh) : null;
      if (this.margin) this.redraw();
    }, 50);
    return true;
  }

  /** Makes faces stand out, those picked and those only spoken of, and shows these dimensions. */
  look(now: Look): void {
    this.chosenFaces = new Set(now.chosen);
    this.namedFaces = new Set(now.named);
    this.refreshMarks();
    this.dimension(now.dimensions);
    this.margin = now.margin ?? null;
    void this.colour(this.margin?.address ?? "");
    this.redraw();
  }

  /** Colours the part by the margin that lies at an address, or no more. */
  private async colour(address: string): Promise<void> {
    if (address === this.marginShown) return;
    this.marginShown = address;
    const answer = address ? await fetch(address).catch(() => null) : null;
    const bytes = answer?.ok ? await answer.arrayBuffer() : null;
    if (address !== this.marginShown) return;
    this.shaded?.colour(bytes && readMargin(bytes));
    if (address && !bytes) this.marginShown = "";
    this.root.dataset.coloured = this.marginShown;
    this.redraw();
  }

  /** Takes these dimensions; turns the part when the one in hand could not be seen otherwise. */
  private dimension(dimensions: Dimension[]): void {
    const wants = dimensions.length > 1 !== this.dimensions.length > 1;
    this.dimensions = dimensions;
    if (wants) this.eye.showWhole(this.reach, this.share);
    const inHand = dimensions.find(d => d.inHand);
    if (inHand?.kind === "distance" && foreshortened(inHand.along, this.eye) < 0.5) {
      const stands: Stand[] = [...Object.values(standardViews), { right: -45, above: 35.264 }, { right: 20, above: 20 }];
      const fitting = stands.filter(stand => foreshortened(inHand.along, withStand(stand)) > 0.8);
      const nearest = fitting.sort((a, b) => dot(withStand(b).sight, this.eye.sight) - dot(withStand(a).sight, this.eye.sight))[0];
      if (nearest) this.turnTo(nearest);
    } else if (inHand && [inHand.from, inHand.to].some(p => this.isOff(p))) this.eye.showWhole(this.reach, this.share);
  }

  /** Says whether the drawn views are preferred. */
  preferDrawn(drawn: boolean): void {
    this.prefersDrawn = drawn;
    if (this.usesDrawn) this.eye.showWhole(this.reach, this.share);
    this.redraw();
  }

  detach(): void {
    this.stop.abort();
    this.sized.disconnect();
    this.themed.disconnect();
    cancelAnimationFrame(this.frame);
    cancelAnimationFrame(this.turning);
    this.shaded?.dispose();
  }

  /** What is in the picture, for whoever checks it: triangles, where a face is seen, what lies at a place, and how long a pick takes. */
  facts() {
    return { key: this.part?.key ?? null, triangles: this.mesh ? this.mesh.faceOfTriangle.length : 0, drawnTriangles: this.shaded?.triangles ?? 0, canShade: this.shaded !== null, inches: keptUnit() === "in", shaded: !this.usesDrawn, seen: this.eye.words };
  }

  /** The number of the face seen at a place of the stage, px. */
  faceAt(x: number, y: number): number | null {
    if (!this.mesh) return null;
    this.picker ??= new Picker(this.mesh);
    return this.picker.at(this.eye, x, y, 4 * this.radius, this.usesDrawn ? null : this.cut);
  }

  /** Whether another face is seen where the margin is least. */
  private get hidesExtreme(): boolean {
    if (!this.margin || !this.picker) return false;
    const [x, y] = this.eye.onPage(this.margin.at);
    return this.faceAt(x, y) !== this.margin.face;
  }

  private get usesDrawn(): boolean {
    return this.prefersDrawn || this.isLost || this.shaded === null;
  }

  /** How much of the picture the part takes; dimensions want room round it. */
  private get share(): number {
    return this.dimensions.length > 1 ? 0.5 : this.eye.widthPx < narrowPx ? 0.6 : 0.68;
  }

  /** How long the unit is in which lengths are shown. */
  private get unitMm(): number {
    return this.part?.inches ? 25.4 : 1;
  }

  private get radius(): number {
    const d = plus(this.high, this.low, -1), middle: Triple = [(this.low[0] + this.high[0]) / 2, (this.low[1] + this.high[1]) / 2, (this.low[2] + this.high[2]) / 2];
    const off = plus(this.eye.target, middle, -1);
    return Math.sqrt(dot(d, d)) / 2 + Math.sqrt(dot(off, off)) + 1;
  }

  private listen(): void {
    const { signal } = this.stop, { canvas, stage } = this;
    canvas.addEventListener("webglcontextlost", event => {
      // Else the browser would never give it back.
      event.preventDefault();
      this.isLost = true;
      this.redraw();
      void this.page.invokeMethodAsync("ShadingLost", true).catch(() => undefined);
    }, { signal });
    canvas.addEventListener("webglcontextrestored", () => {
      this.isLost = false;
      this.redraw();
      void this.page.invokeMethodAsync("ShadingLost", false).catch(() => undefined);
    }, { signal });
    for (const query of ["(prefers-color-scheme: dark)", "(forced-colors: active)"]) matchMedia(query).addEventListener("change", () => this.repaint(), { signal });
    // What is printed is what stands on the canvas at that moment.
    matchMedia("print").addEventListener("change", () => {
      this.repaint();
      this.draw();
    }, { signal });

    this.root.addEventListener("click", event => {
      const button = (event.target as Element).closest<HTMLElement>("[data-do]");
      if (button) this.act(button.dataset.do!);
    }, { signal });
    this.root.addEventListener("input", event => {
      const field = event.target as HTMLInputElement;
      if (field.dataset.cut) this.cutChanged(field);
    }, { signal });
    stage.addEventListener("keydown", event => this.key(event), { signal });
    stage.addEventListener("wheel", event => {
      event.preventDefault();
      const { x, y } = this.spot(event);
      this.eye.approach(Math.exp(-Math.max(-120, Math.min(120, event.deltaY)) * 0.0016), x, y);
      this.redraw();
    }, { signal, passive: false });
    this.listenToPointers(signal);
  }

  private listenToPointers(signal: AbortSignal): void {
    const held = new Map<number, { x: number; y: number }>();
    let travelled = 0;
    const { stage } = this;
    stage.addEventListener("pointerdown", event => {
      if ((event.target as Element).closest("text")) return;
      held.set(event.pointerId, this.spot(event));
      travelled = 0;
      stage.setPointerCapture(event.pointerId);
    }, { signal });
    stage.addEventListener("pointermove", event => {
      const now = this.spot(event), was = held.get(event.pointerId);
      if (!was) {
        if (event.pointerType === "mouse") this.sayUnder(now.x, now.y);
        return;
      }
      held.set(event.pointerId, now);
      const [dx, dy] = [now.x - was.x, now.y - was.y];
      travelled += Math.hypot(dx, dy);
      if (travelled < clickPx) return;
      if (held.size === 2) {
        const other = [...held].find(([id]) => id !== event.pointerId)![1];
        const before = Math.hypot(was.x - other.x, was.y - other.y), after = Math.hypot(now.x - other.x, now.y - other.y);
        this.eye.move(dx / 2, dy / 2);
        if (before > 1) this.eye.approach(after / before, (now.x + other.x) / 2, (now.y + other.y) / 2);
      } else if (event.shiftKey || (event.buttons & 6) !== 0) this.eye.move(dx, dy);
      else if (!this.usesDrawn) this.eye.turn(dx * turnPerPx, dy * turnPerPx);
      else this.eye.move(dx, dy);
      this.redraw();
    }, { signal });
    stage.addEventListener("pointerup", event => {
      if (!held.delete(event.pointerId) || travelled >= clickPx || event.button !== 0) return;
      const { x, y } = this.spot(event);
      void this.page.invokeMethodAsync("FacePicked", this.faceAt(x, y) ?? -1).catch(() => undefined);
    }, { signal });
    stage.addEventListener("pointercancel", event => held.delete(event.pointerId), { signal });
    stage.addEventListener("pointerleave", () => this.say(".under", ""), { signal });
    stage.addEventListener("contextmenu", event => event.preventDefault(), { signal });
  }

  private key(event: KeyboardEvent): void {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const arrows: Record<string, string> = { ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down" };
    if (arrows[event.key]) this.act(`${event.shiftKey ? "move" : "turn"} ${arrows[event.key]}`);
    else if (event.key === "+" || event.key === "=") this.act("closer");
    else if (event.key === "-") this.act("farther");
    else if (event.key === "Home") this.act("whole");
    else return;
    event.preventDefault();
  }

  private act(what: string): void {
    const [verb, which] = what.split(" ");
    const [right, down] = { left: [-1, 0], right: [1, 0], up: [0, -1], down: [0, 1] }[which] ?? [0, 0];
    const moves = verb === "move" || (verb === "arrow" && one<HTMLSelectElement>(this.root, "[data-arrows]").value === "move");
    if (verb === "view") return this.turnTo(standardViews[which]);
    if (verb === "closer" || verb === "farther") this.eye.approach(verb === "closer" ? closer : 1 / closer);
    else if (verb === "whole") this.eye.showWhole(this.reach, this.share);
    else if (moves) this.eye.move(right * moveStep, down * moveStep);
    else if (this.usesDrawn) return this.turnTo({ right: this.eye.stand.above === 0 ? this.eye.stand.right - 90 * right : 0, above: this.eye.stand.above === 0 ? 90 * down : 0 });
    else this.eye.turn(right * turnStep, down * turnStep);
    this.redraw();
  }

  /** Turns to a stand, by the shorter way; at once where motion is not wanted, or where a frame takes so long that it would only jerk. */
  private turnTo(stand: Stand): void {
    cancelAnimationFrame(this.turning);
    const from = { ...this.eye.stand }, away = stand.right - from.right, right = away - 360 * Math.round(away / 360);
    const span = this.usesDrawn || matchMedia("(prefers-reduced-motion: reduce)").matches ? 0 : turnMs, begun = performance.now();
    let last = begun, isSlow = false;
    const step = (now: number) => {
      isSlow ||= now - last > slowMs;
      last = now;
      const share = span === 0 || isSlow ? 1 : Math.min(1, Math.max(0, (now - begun) / span)), eased = share * share * (3 - 2 * share);
      this.eye.stand = share === 1 ? { ...stand } : { right: from.right + right * eased, above: from.above + (stand.above - from.above) * eased };
      this.eye.showWhole(this.reach, this.share);
      this.redraw();
      if (share < 1) this.turning = requestAnimationFrame(step);
    };
    step(begun);
  }

  private cutChanged(field: HTMLInputElement): void {
    const isPlace = field.dataset.cut === "range" || field.dataset.cut === "number";
    if (isPlace && Number.isFinite(field.valueAsNumber)) this.cutAtMm = field.valueAsNumber * this.unitMm;
    this.refreshCut(field.dataset.cut === "direction", field);
    this.redraw();
  }

  /** @param anew whether the cut goes through the middle again; `typed`: the field that is not written into, since somebody does */
  private refreshCut(anew = false, typed: HTMLInputElement | null = null): void {
    const direction = one<HTMLSelectElement>(this.root, "[data-cut=direction]").value, range = one<HTMLInputElement>(this.root, "[data-cut=range]"), number = one<HTMLInputElement>(this.root, "[data-cut=number]");
    const n = cutNormals[direction];
    one<HTMLFieldSetElement>(this.root, ".cut-at").disabled = !n;
    if (!n) {
      this.cut = null;
      return;
    }
    const axis = n.findIndex(x => x !== 0), low = this.low[axis], high = this.high[axis], inUnit = (mm: number) => (mm / this.unitMm).toFixed(this.part?.inches ? 3 : 2);
    if (anew) this.cutAtMm = (low + high) / 2;
    for (const field of [range, number]) {
      field.min = inUnit(low);
      field.max = inUnit(high);
      field.step = field === range ? "any" : this.part?.inches ? "0.005" : "0.1";
      if (field !== typed) field.value = inUnit(this.cutAtMm);
    }
    const turned = one<HTMLInputElement>(this.root, "[data-cut=other]").checked ? -1 : 1;
    const normal: Triple = [n[0] * turned, n[1] * turned, n[2] * turned];
    this.cut = { normal, at: normal[axis] * Math.max(low, Math.min(high, this.cutAtMm)) };
  }

  private isOff(p: Triple): boolean {
    const [x, y] = this.eye.onPage(p);
    return x < 0 || y < 0 || x > this.eye.widthPx || y > this.eye.heightPx;
  }

  private measureBox(): void {
    const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity], { points } = this.mesh!;
    for (let k = 0; k < points.length; k++) {
      low[k % 3] = Math.min(low[k % 3], points[k]);
      high[k % 3] = Math.max(high[k % 3], points[k]);
    }
    this.low = low as unknown as Triple;
    this.high = high as unknown as Triple;
  }

  private refreshMarks(): void {
    if (!this.mesh) return;
    const states = new Uint8Array(Math.max(1, ...[...this.chosenFaces, ...this.namedFaces].map(f => f + 1)));
    for (const face of this.namedFaces) states[face] = named;
    for (const face of this.chosenFaces) states[face] = chosen;
    this.shaded?.mark(states);
    this.chosenBounds = boundaries(this.mesh, this.chosenFaces, this.faceOf);
    this.namedBounds = boundaries(this.mesh, this.namedFaces, this.faceOf);
  }

  private repaint(): void {
    const probe = document.createElement("span");
    // Where the system chooses the colours the part keeps its own: in one colour it would be a blot.
    probe.style.forcedColorAdjust = "none";
    this.stage.append(probe);
    const colour = (name: string) => {
      probe.style.color = `var(${name})`;
      return getComputedStyle(probe).color;
    };
    const inks: Inks = { light: colour("--part-light"), shade: colour("--part-shade"), ink: colour("--ink"), thin: colour("--ink"), look: colour("--look"), cut: colour("--part-cut"), steps: [1, 2, 3, 4, 5, 6].map(k => colour(`--margin-${k}`)) };
    probe.remove();
    this.shaded?.paint(inks);
    this.redraw();
  }

  private fitStage(): void {
    const { width, height } = this.stage.getBoundingClientRect();
    if (width < 1 || height < 1) return;
    const wasEmpty = this.eye.widthPx <= 1, factor = wasEmpty ? 1 : Math.min(width / this.eye.widthPx, height / this.eye.heightPx);
    [this.eye.widthPx, this.eye.heightPx] = [width, height];
    if (wasEmpty) this.eye.showWhole(this.reach, this.share);
    else this.eye.mmPerPx /= factor;
    this.redraw();
  }

  private redraw(): void {
    if (this.frame === 0) this.frame = requestAnimationFrame(() => this.draw());
  }

  private draw(): void {
    this.frame = 0;
    if (!this.mesh || !this.part) return;
    const drawn = this.usesDrawn;
    this.stage.classList.toggle("shows-drawn", drawn);
    if (drawn) this.drawn.draw(this.eye);
    else {
      this.drawn.clear();
      this.shaded!.draw(this.eye, this.radius, this.cut);
    }
    const shown = this.overlay.draw(this.eye, this.dimensions, this.reach, this.chosenBounds, this.namedBounds, this.margin, this.hidesExtreme), all = this.dimensions.length;
    this.say(".shown", all > 1 && shown < all ? `${shown} of ${all} sizes in this view` : "");
    this.say(".whence", `Seen ${standardViews[this.eye.words] ? `from: ${this.eye.words}` : this.eye.words}`);
    for (const button of this.root.querySelectorAll<HTMLElement>("[data-do^='view ']")) button.setAttribute("aria-pressed", String(button.dataset.do === `view ${this.eye.words}`));
    this.showScale();
    if (!drawn || this.drawn.isThere) this.root.dataset.drawn = this.part.key;
  }

  /** A line of a round length, so that the eye has a measure. */
  private showScale(): void {
    const perPx = this.eye.mmPerPx / this.unitMm;
    const most = 0.22 * this.eye.widthPx * perPx, power = 10 ** Math.floor(Math.log10(most));
    const length = [5, 2, 1].map(n => n * power).find(n => n <= most) ?? power;
    one<HTMLElement>(this.root, ".scale-line").style.width = `${length / perPx}px`;
    this.say(".scale-words", `${Number(length.toPrecision(3))} ${this.part?.inches ? "in" : "mm"}`);
  }

  private sayUnder(x: number, y: number): void {
    const face = this.picker ? this.faceAt(x, y) : null;
    this.say(".under", face === null ? "" : this.part?.words[face] ?? "");
  }

  private say(where: string, words: string): void {
    const place = one<HTMLElement>(this.root, where);
    if (place.textContent !== words) place.textContent = words;
  }

  private spot(event: MouseEvent): { x: number; y: number } {
    const box = this.stage.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }
}

function withStand(stand: Stand): Eye {
  const eye = new Eye();
  eye.stand = stand;
  return eye;
}

function one<T extends Element>(within: Element, selector: string): T {
  const found = within.querySelector<T>(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return found;
}

/** Begins the picture within the page's element. */
export function attach(root: HTMLElement, page: Page): PartView {
  return new PartView(root, page);
}
