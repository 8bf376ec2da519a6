import {
  BackSide, BufferAttribute, BufferGeometry, Color, DataTexture, DoubleSide, FrontSide, Mesh, NearestFilter, NotEqualStencilFunc, OrthographicCamera, Plane, RedFormat, ReplaceStencilOp, Scene, ShaderMaterial,
  UnsignedByteType, Vector3, Vector4, WebGLRenderer,
} from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { plus, type Eye } from "./eye.ts";
import { cutLines, outlines, type Cut } from "./lines.ts";
import type { MarginField } from "./margin-field.ts";
import type { PartMesh } from "./part-mesh.ts";

/** The colours of a drawing, as CSS has them. */
export interface Inks { light: string; shade: string; ink: string; thin: string; look: string; cut: string; steps: string[] }

/** What a face is at the moment. */
export const plain = 0, named = 1, chosen = 2;

const sidePx = 256;

const vertexShader = /* glsl */`
  attribute float face;
  #ifdef MARGIN
    attribute vec2 margin; // doublings from 1, and whether it is judged
    varying vec2 vMargin;
  #endif
  uniform sampler2D states;
  varying vec3 vNormal;
  varying vec3 vPlace;
  flat varying float vState;
  void main() {
    int number = int(face + 0.5);
    vState = texelFetch(states, ivec2(number % ${sidePx}, number / ${sidePx}), 0).r * 255.0;
    #ifdef MARGIN
      vMargin = margin;
    #endif
    vNormal = normalMatrix * normal;
    vPlace = (modelViewMatrix * vec4(position, 1.0)).xyz;
    gl_Position = projectionMatrix * vec4(vPlace, 1.0);
  }`;

const fragmentShader = /* glsl */`
  uniform vec3 light, shade, ink, look, cutGround;
  uniform vec4 cutPlane; // in the eye's axes; what lies beyond is left out
  uniform float pxRatio;
  varying vec3 vNormal;
  varying vec3 vPlace;
  flat varying float vState;
  #ifdef MARGIN
    uniform vec3 steps[6];
    varying vec2 vMargin;
  #endif

  float hatch(float spacing, float width) {
    float across = (gl_FragCoord.x - gl_FragCoord.y) / (1.41421 * pxRatio);
    float from = abs(fract(across / spacing) - 0.5) * spacing;
    return 1.0 - smoothstep(width * 0.5 - 0.35, width * 0.5 + 0.35, from);
  }

  void main() {
    #ifdef CUT
      if (dot(cutPlane.xyz, vPlace) > cutPlane.w) discard;
    #endif
    vec3 n = normalize(vNormal);
    vec3 colour = mix(shade, light, smoothstep(-0.35, 0.95, dot(n, vec3(-0.37, 0.62, 0.69))));
    #ifdef MARGIN
      float lit = mix(0.72, 1.0, smoothstep(-0.35, 0.95, dot(n, vec3(-0.37, 0.62, 0.69))));
      if (vMargin.y < 0.999) colour = mix(colour, ink, 0.35 * hatch(8.0, 0.8));
      else {
        int number = int(clamp(floor(vMargin.x) + 3.0, 0.0, 5.0));
        colour = steps[0] * lit;
        for (int k = 1; k < 6; k++) if (k == number) colour = steps[k] * lit;
        // A line where one step meets the next, the stronger where the margin is 1.
        float line = clamp(floor(vMargin.x + 0.5), -2.0, 2.0), wide = (line == 0.0 ? 1.5 : 0.6) * pxRatio;
        float from = abs(vMargin.x - line) / max(fwidth(vMargin.x), 1e-6);
        colour = mix(colour, vec3(0.07, 0.08, 0.1), 1.0 - smoothstep(wide - 0.5, wide + 0.5, from));
      }
    #endif
    if (vState > 1.5) colour = mix(mix(colour, look, 0.22), look, 0.75 * hatch(7.0, 1.3));
    else if (vState > 0.5) colour = mix(colour, look, 0.30);
    #ifdef CUT
      // The first thing seen beyond the plane is the inside of the surface exactly where the plane goes through material: there lies the cut face.
      if (!gl_FrontFacing) colour = mix(cutGround, ink, 0.8 * hatch(6.0, 0.9));
    #endif
    gl_FragColor = vec4(colour, 1.0);
  }`;

/** Draws the part shaded, with its edges and outlines, when asked to and never else. */
export class Shaded {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new OrthographicCamera();
  private readonly states = new DataTexture(new Uint8Array(sidePx * sidePx), sidePx, sidePx, RedFormat, UnsignedByteType);
  private readonly surface: ShaderMaterial;
  private readonly strong = new LineMaterial({ linewidth: 1.7 });
  private readonly weak = new LineMaterial({ linewidth: 0.8, transparent: true, opacity: 0.55 });
  private readonly bounding = new LineMaterial({ linewidth: 1.7 });
  private readonly clipping = new Plane();
  /** Marks where the cut face lies, so that edges behind it are not drawn over it. */
  private readonly cutMark: ShaderMaterial;
  private part: Mesh | null = null;
  private marker: Mesh | null = null;
  private boundLines: LineSegments2 | null = null;
  private strongLines: LineSegments2 | null = null;
  private weakLines: LineSegments2 | null = null;
  private mesh: PartMesh | null = null;
  private facets: Float32Array = new Float32Array();
  private plainGeometry: BufferGeometry | null = null;
  private fixedEnds: number[] = [];

  /** Throws where there is no WebGL. */
  constructor(canvas: HTMLCanvasElement) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true, stencil: true, powerPreference: "low-power" });
    this.renderer.localClippingEnabled = true;
    this.states.minFilter = this.states.magFilter = NearestFilter;
    const colour = () => ({ value: new Color() });
    this.surface = new ShaderMaterial({
      vertexShader, fragmentShader, side: FrontSide, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 2,
      uniforms: { states: { value: this.states }, light: colour(), shade: colour(), ink: colour(), look: colour(), cutGround: colour(), cutPlane: { value: new Vector4() }, pxRatio: { value: 1 }, steps: { value: Array.from({ length: 6 }, () => new Color()) } },
    });
    this.cutMark = this.surface.clone();
    Object.assign(this.cutMark, { uniforms: this.surface.uniforms, defines: { CUT: "" }, side: BackSide, colorWrite: false, depthWrite: false, stencilWrite: true, stencilRef: 1, stencilZPass: ReplaceStencilOp });
    for (const lines of [this.strong, this.weak]) Object.assign(lines, { stencilRef: 1, stencilFunc: NotEqualStencilFunc });
  }

  get triangles(): number {
    return this.renderer.info.render.triangles;
  }

  /** @param faceOf the face to which each point belongs */
  show(mesh: PartMesh, facets: Float32Array, faceOf: Float32Array): void {
    this.mesh = mesh;
    this.facets = facets;
    this.dropMargin();
    this.plainGeometry?.dispose();
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(mesh.points, 3));
    geometry.setAttribute("normal", new BufferAttribute(mesh.normals, 3));
    geometry.setAttribute("face", new BufferAttribute(faceOf, 1));
    geometry.setIndex(new BufferAttribute(mesh.triangles, 1));
    if (this.part) this.part.geometry = geometry;
    else {
      this.part = new Mesh(geometry, this.surface);
      this.marker = new Mesh(geometry, this.cutMark);
      this.marker.visible = false;
      this.marker.renderOrder = 1;
      for (const mesh of [this.part, this.marker]) mesh.frustumCulled = false;
      this.scene.add(this.part, this.marker);
    }
    this.marker!.geometry = this.plainGeometry = geometry;
    this.fixedEnds = endsOf(mesh, mesh.sharpEdges);
    this.weakLines = this.lines(this.weakLines, endsOf(mesh, mesh.smoothEdges), this.weak);
  }

  /** Colours the part by the margin on its surface, or no more. */
  colour(field: MarginField | null): void {
    this.dropMargin();
    if (!field || !this.part) return;
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(field.points, 3));
    geometry.setAttribute("normal", new BufferAttribute(field.normals, 3));
    geometry.setAttribute("face", new BufferAttribute(field.faces, 1));
    geometry.setAttribute("margin", new BufferAttribute(field.margins, 2));
    geometry.setIndex(new BufferAttribute(field.triangles, 1));
    this.part.geometry = geometry;
    this.surface.defines.MARGIN = "";
    this.surface.needsUpdate = true;
  }

  private dropMargin(): void {
    if (this.surface.defines.MARGIN === undefined || !this.part) return;
    this.part.geometry.dispose();
    this.part.geometry = this.plainGeometry!;
    delete this.surface.defines.MARGIN;
    this.surface.needsUpdate = true;
  }

  /** Says what each face is: plain, named or chosen. */
  mark(states: Uint8Array): void {
    const data = this.states.image.data as Uint8Array;
    data.fill(plain);
    data.set(states.subarray(0, data.length));
    this.states.needsUpdate = true;
  }

  paint(inks: Inks): void {
    // As they are: what CSS calls a colour is what shall be seen.
    const u = this.surface.uniforms, set = (colour: Color, css: string) => colour.setStyle(css, "srgb-linear");
    set(u.light.value, inks.light); set(u.shade.value, inks.shade); set(u.ink.value, inks.ink); set(u.look.value, inks.look); set(u.cutGround.value, inks.cut);
    inks.steps.forEach((css, k) => set(u.steps.value[k], css));
    this.strong.color.setStyle(inks.ink);
    this.bounding.color.setStyle(inks.ink);
    this.weak.color.setStyle(inks.thin);
  }

  draw(eye: Eye, radiusMm: number, cut: Cut | null): void {
    if (!this.mesh || !this.part) return;
    const ratio = Math.min(window.devicePixelRatio || 1, 2);
    if (this.renderer.getPixelRatio() !== ratio) this.renderer.setPixelRatio(ratio);
    const { width, height } = this.renderer.domElement;
    if (width !== Math.floor(eye.widthPx * ratio) || height !== Math.floor(eye.heightPx * ratio)) this.renderer.setSize(eye.widthPx, eye.heightPx, false);

    const far = 4 * radiusMm, { camera } = this;
    const x = eye.widthPx * eye.mmPerPx / 2, y = eye.heightPx * eye.mmPerPx / 2;
    [camera.left, camera.right, camera.top, camera.bottom, camera.near, camera.far] = [-x, x, y, -y, 0, 2 * far];
    camera.updateProjectionMatrix();
    camera.position.set(...plus(eye.target, eye.sight, -far));
    camera.up.set(...eye.toUp);
    camera.lookAt(...eye.target);
    camera.updateMatrixWorld();

    this.useCut(cut);
    this.strongLines = this.lines(this.strongLines, this.fixedEnds.concat(outlines(this.mesh, this.facets, eye.sight)), this.strong);
    this.boundLines = this.lines(this.boundLines, cut ? cutLines(this.mesh, cut) : [], this.bounding);
    this.renderer.render(this.scene, camera);
  }

  dispose(): void {
    this.dropMargin();
    this.plainGeometry?.dispose();
    this.strongLines?.geometry.dispose();
    this.weakLines?.geometry.dispose();
    this.boundLines?.geometry.dispose();
    for (const thing of [this.surface, this.cutMark, this.bounding, this.strong, this.weak, this.states]) thing.dispose();
    this.renderer.dispose();
  }

  private useCut(cut: Cut | null): void {
    const { surface } = this, was = surface.defines.CUT !== undefined;
    if (was !== (cut !== null)) {
      if (cut) surface.defines.CUT = ""; else delete surface.defines.CUT;
      surface.side = cut ? DoubleSide : FrontSide;
      surface.needsUpdate = true;
      this.strong.clippingPlanes = this.weak.clippingPlanes = cut ? [this.clipping] : null;
      this.strong.stencilWrite = this.weak.stencilWrite = cut !== null;
      this.marker!.visible = cut !== null;
    }
    surface.uniforms.pxRatio.value = this.renderer.getPixelRatio();
    if (!cut) return;
    // A hair beyond, so that the line round the cut face is not cut away itself.
    this.clipping.set(new Vector3(...cut.normal).negate(), cut.at + 1e-3);
    const inEye = new Plane(new Vector3(...cut.normal), -cut.at).applyMatrix4(this.camera.matrixWorldInverse);
    surface.uniforms.cutPlane.value.set(inEye.normal.x, inEye.normal.y, inEye.normal.z, -inEye.constant);
  }

  private lines(was: LineSegments2 | null, ends: number[], material: LineMaterial): LineSegments2 | null {
    if (was) was.geometry.dispose();
    if (ends.length === 0) {
      if (was) this.scene.remove(was);
      return null;
    }
    const geometry = new LineSegmentsGeometry();
    geometry.setPositions(ends);
    if (was) {
      was.geometry = geometry;
      return was;
    }
    const lines = new LineSegments2(geometry, material);
    lines.frustumCulled = false;
    lines.renderOrder = 2;
    this.scene.add(lines);
    return lines;
  }
}

function endsOf(mesh: PartMesh, edges: Uint32Array): number[] {
  const ends: number[] = [];
  for (const point of edges) ends.push(mesh.points[3 * point], mesh.points[3 * point + 1], mesh.points[3 * point + 2]);
  return ends;
}
