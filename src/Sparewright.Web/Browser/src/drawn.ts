import { dot, nearestStandard, standardViews, type Eye } from "./eye.ts";

/** The part as hidden-line views that the server draws: for machines without WebGL, and for those who prefer them. */
export class Drawn {
  private readonly place: HTMLElement;
  private readonly changed: () => void;
  private readonly kept = new Map<string, SVGSVGElement>();
  private address = "";
  private wanted = "";

  /** @param changed called when a view has come */
  constructor(place: HTMLElement, changed: () => void) {
    this.place = place;
    this.changed = changed;
  }

  /** Takes the views of another solid; the one in sight stays until its successor has come. */
  show(address: string): void {
    if (address === this.address) return;
    this.address = address;
    this.kept.clear();
    this.wanted = "";
  }

  /** Whether the view that the eye has is in sight. */
  get isThere(): boolean {
    return this.kept.has(this.wanted);
  }

  draw(eye: Eye): void {
    const name = nearestStandard(eye.stand);
    eye.stand = { ...standardViews[name] };
    if (this.wanted !== name) {
      this.wanted = name;
      void this.fetch(name);
    }
    const view = this.kept.get(name);
    if (!view) return;
    if (this.place.firstElementChild !== view) this.place.replaceChildren(view);
    const width = eye.widthPx * eye.mmPerPx, height = eye.heightPx * eye.mmPerPx;
    view.setAttribute("viewBox", `${dot(eye.target, eye.toRight) - width / 2} ${-dot(eye.target, eye.toUp) - height / 2} ${width} ${height}`);
  }

  clear(): void {
    this.place.replaceChildren();
  }

  private async fetch(name: string): Promise<void> {
    const address = this.address;
    const answer = await fetch(`${address}/${name}.svg`).catch(() => null);
    if (!answer?.ok || address !== this.address) {
      if (address === this.address) this.wanted = "";
      return;
    }
    const view = new DOMParser().parseFromString(await answer.text(), "image/svg+xml").documentElement as unknown as SVGSVGElement;
    if (address !== this.address || view.localName !== "svg") return;
    view.removeAttribute("width");
    view.removeAttribute("height");
    view.setAttribute("aria-hidden", "true");
    this.kept.set(name, document.adoptNode(view));
    this.changed();
  }
}
