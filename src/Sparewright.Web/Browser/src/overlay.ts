import type { Eye } from "./eye.ts";
import { place, type Dimension } from "./dimension-layout.ts";
import type { Extreme } from "./margin-field.ts";

const svgSpace = "http://www.w3.org/2000/svg";
const arrow = { length: 9, half: 1.9 };
const px = (value: number) => value.toFixed(1);

/** Draws over the picture: dimension lines with their lettering, and the bounds of what stands out. Texts can be selected and read aloud. */
export class Overlay {
  private readonly svg: SVGSVGElement;

  constructor(svg: SVGSVGElement) {
    this.svg = svg;
  }

  /** @param chosen ends of the pieces that bound what was picked, x, y, z each, two a piece; `named` of what is only spoken of; `extreme` where the margin is least, and whether something lies before that
   *  @returns how many dimensions there was room for */
  draw(eye: Eye, dimensions: readonly Dimension[], reach: Float32Array, chosen: readonly number[], named: readonly number[], extreme: Extreme | null = null, isHidden = false): number {
    this.svg.setAttribute("viewBox", `0 0 ${eye.widthPx} ${eye.heightPx}`);
    const group = make("g", {});
    if (named.length > 0) group.append(make("path", { class: "named-bounds", d: pieces(eye, named) }));
    if (chosen.length > 0) group.append(make("path", { class: "chosen-bounds", d: pieces(eye, chosen) }));
    const all = place(dimensions, eye, reach);
    for (const placed of all) {
      const one = make("g", { class: placed.inHand ? "dimension in-hand" : "dimension" });
      one.append(make("path", { class: "thin", d: placed.lines.map(([a, b]) => `M${px(a[0])} ${px(a[1])}L${px(b[0])} ${px(b[1])}`).join("") }));
      for (const { tip, toward } of placed.arrows) {
        const back = [tip[0] - toward[0] * arrow.length, tip[1] - toward[1] * arrow.length], side = [-toward[1] * arrow.half, toward[0] * arrow.half];
        one.append(make("path", { class: "arrow", d: `M${px(tip[0])} ${px(tip[1])}L${px(back[0] + side[0])} ${px(back[1] + side[1])}L${px(back[0] - side[0])} ${px(back[1] - side[1])}Z` }));
      }
      for (const [x, y] of placed.touches) one.append(make("circle", { class: "touch", cx: px(x), cy: px(y), r: "4" }));
      const text = make("text", { transform: `translate(${px(placed.at[0])} ${px(placed.at[1])}) rotate(${px(Math.atan2(placed.reads[1], placed.reads[0]) * 180 / Math.PI)})`, "text-anchor": "middle" });
      text.textContent = placed.text;
      one.append(text);
      group.append(one);
    }
    if (extreme) group.append(marked(eye, extreme, isHidden, reach));
    this.svg.replaceChildren(group);
    return all.length;
  }
}

/** A ring about the place and its words, led to above or below the part, where they do not lie on its colours. */
function marked(eye: Eye, extreme: Extreme, isHidden: boolean, reach: Float32Array): SVGElement {
  const [x, y] = eye.onPage(extreme.at), ring = 6, letters = 24;
  let top = Infinity, bottom = -Infinity;
  for (let p = 0; p < reach.length; p += 3) {
    const at = eye.onPage([reach[p], reach[p + 1], reach[p + 2]])[1];
    top = Math.min(top, at); bottom = Math.max(bottom, at);
  }
  // Whoever has come close sees nothing beyond the part: then the words stand near the place.
  const baseline = top > 2 * letters ? top - letters / 2 : bottom < eye.heightPx - 2 * letters ? bottom + letters : y > 70 ? y - 40 : y + 40 + letters / 2, up = baseline < y ? -1 : 1;
  // Lettering like this takes some 8 px a letter; on a narrow page it is moved back in.
  const half = Math.min(eye.widthPx / 2, 4 * extreme.text.length + 8), textX = Math.max(half, Math.min(eye.widthPx - half, x)), endY = up < 0 ? baseline + 5 : baseline - 15;
  const away = Math.hypot(textX - x, endY - y) || 1, one = make("g", { class: isHidden ? "extreme hidden" : "extreme" });
  one.append(make("circle", { cx: px(x), cy: px(y), r: String(ring) }));
  one.append(make("path", { class: "thin", d: `M${px(x + ring * (textX - x) / away)} ${px(y + ring * (endY - y) / away)}L${px(textX)} ${px(endY)}` }));
  const text = make("text", { x: px(textX), y: px(baseline), "text-anchor": "middle" });
  text.textContent = extreme.text;
  one.append(text);
  return one;
}

function pieces(eye: Eye, ends: readonly number[]): string {
  let d = "";
  for (let k = 0; k < ends.length; k += 6) {
    const a = eye.onPage([ends[k], ends[k + 1], ends[k + 2]]), b = eye.onPage([ends[k + 3], ends[k + 4], ends[k + 5]]);
    d += `M${px(a[0])} ${px(a[1])}L${px(b[0])} ${px(b[1])}`;
  }
  return d;
}

function make(name: string, attributes: Record<string, string>): SVGElement {
  const element = document.createElementNS(svgSpace, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}
