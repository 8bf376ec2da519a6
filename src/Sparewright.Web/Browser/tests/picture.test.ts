import assert from "node:assert/strict";
import { test } from "node:test";
import { foreshortened, place, type Dimension } from "../src/dimension-layout.ts";
import { cross, dot, Eye, nearestStandard, standardViews, type Triple } from "../src/eye.ts";
import { boundaries, cutLines, facetNormals, outlines } from "../src/lines.ts";
import { readMargin } from "../src/margin-field.ts";
import { faceOfPoint, outermost, readMesh, type PartMesh } from "../src/part-mesh.ts";
import { Picker } from "../src/pick.ts";

/** A box 40 × 20 × 10 whose faces are 0 left, 1 right, 2 front, 3 back, 4 bottom, 5 top. */
function box(): PartMesh {
  const size = [40, 20, 10], points: number[] = [], normals: number[] = [], triangles: number[] = [], faceOfTriangle: number[] = [];
  for (let face = 0; face < 6; face++) {
    const axis = Math.floor(face / 2), out = face % 2, u = (axis + 1) % 3, v = (axis + 2) % 3, first = points.length / 3;
    for (const [a, b] of [[0, 0], [1, 0], [1, 1], [0, 1]]) {
      const p = [0, 0, 0], n = [0, 0, 0];
      p[axis] = out * size[axis]; p[u] = a * size[u]; p[v] = b * size[v]; n[axis] = out ? 1 : -1;
      points.push(...p); normals.push(...n);
    }
    triangles.push(...(out ? [0, 1, 2, 0, 2, 3] : [0, 2, 1, 0, 3, 2]).map(k => first + k));
    faceOfTriangle.push(face, face);
  }
  return {
    points: Float32Array.from(points), normals: Float32Array.from(normals), triangles: Uint32Array.from(triangles), faceOfTriangle: Uint32Array.from(faceOfTriangle),
    sharpEdges: new Uint32Array(), smoothEdges: new Uint32Array(), turningEdges: new Uint32Array(),
  };
}

function eyeAt(view: string): Eye {
  const eye = new Eye();
  [eye.widthPx, eye.heightPx, eye.stand] = [600, 500, { ...standardViews[view] }];
  eye.showWhole(outermost(box()), 0.5);
  return eye;
}

test("the standard views look where ISO 5456-2 says, with the part's own up", () => {
  const sights: Record<string, Triple> = { front: [0, 1, 0], top: [0, 0, -1], left: [1, 0, 0], right: [-1, 0, 0], bottom: [0, 0, 1], rear: [0, -1, 0] };
  for (const [name, sight] of Object.entries(sights)) {
    const eye = eyeAt(name);
    for (let k = 0; k < 3; k++) assert.ok(Math.abs(eye.sight[k] - sight[k]) < 1e-12, `${name}: ${eye.sight}`);
    assert.ok(Math.abs(dot(cross(eye.toRight, eye.sight), eye.toUp) - 1) < 1e-12);
    assert.equal(eye.words, name);
    assert.equal(nearestStandard({ right: eye.stand.right + 5, above: eye.stand.above * 0.95 }), name);
  }
  assert.ok(Math.abs(foreshortened([1, 0, 0], eyeAt("isometric")) - Math.sqrt(2 / 3)) < 1e-9);
});

test("a place on the page and its point are each other's inverse, and what is under the pointer stays there", () => {
  const eye = eyeAt("isometric");
  for (const [x, y] of [[0, 0], [123, 456], [600, 500]]) {
    const back = eye.onPage(eye.fromPage(x, y));
    assert.ok(Math.hypot(back[0] - x, back[1] - y) < 1e-9);
  }
  const under = eye.fromPage(100, 50);
  eye.approach(1.7, 100, 50);
  assert.ok(Math.hypot(eye.onPage(under)[0] - 100, eye.onPage(under)[1] - 50) < 1e-9);
});

test("each face is picked from the view that shows it, and none beside the part", () => {
  const picker = new Picker(box());
  for (const [view, face] of Object.entries({ left: 0, right: 1, front: 2, rear: 3, bottom: 4, top: 5 })) {
    const eye = eyeAt(view);
    assert.equal(picker.at(eye, 300, 250, 500, null), face, view);
    assert.equal(picker.at(eye, 5, 5, 500, null), null);
  }
});

test("where the part is cut open, cut material is no face, and what is left is", () => {
  const picker = new Picker(box()), eye = eyeAt("front");
  // The front half is gone: the eye looks at the cut.
  assert.equal(picker.at(eye, 300, 250, 500, { normal: [0, -1, 0], at: -10 }), null);
  // The rear half is gone: the front face is still there.
  assert.equal(picker.at(eye, 300, 250, 500, { normal: [0, 1, 0], at: 10 }), 2);
});

test("a plane cuts a box in an outline as long as the box's girth", () => {
  const ends = cutLines(box(), { normal: [0, 0, 1], at: 4 });
  let length = 0;
  for (let k = 0; k < ends.length; k += 6) length += Math.hypot(ends[k] - ends[k + 3], ends[k + 1] - ends[k + 4], ends[k + 2] - ends[k + 5]);
  assert.ok(Math.abs(length - 120) < 1e-4, `${length}`);
});

test("a face is bounded by its own edges and not by its diagonals", () => {
  const mesh = box(), ends = boundaries(mesh, new Set([5]), faceOfPoint(mesh));
  assert.equal(ends.length / 6, 4);
  assert.ok(ends.every((value, k) => k % 3 !== 2 || value === 10));
});

test("an edge is an outline exactly where the surface turns away from the sight", () => {
  const mesh = box(), turning = { ...mesh, turningEdges: Uint32Array.from([0, 1, 2 * 2, 5 * 2]) }, facets = facetNormals(mesh);
  assert.equal(outlines(turning, facets, [0, 1, 0.001]).length, 6, "the front is seen, the top is not");
  assert.equal(outlines(turning, facets, eyeAt("isometric").sight).length, 0, "both are seen");
  assert.equal(outlines(turning, facets, [0, -1, 0.5]).length, 0, "neither is seen");
});

test("dimension lines are as long as what they measure, and their lettering is upright and apart", () => {
  const reach = outermost(box());
  const sizes: Dimension[] = [
    { kind: "distance", text: "40.00", from: [0, 0, 0], to: [40, 0, 0], along: [1, 0, 0], inHand: false },
    { kind: "distance", text: "10.00", from: [0, 0, 0], to: [0, 0, 10], along: [0, 0, 1], inHand: false },
    { kind: "distance", text: "20.00", from: [0, 20, 0], to: [0, 0, 0], along: [0, -1, 0], inHand: false },
    { kind: "distance", text: "25.00", from: [15, 0, 0], to: [40, 20, 10], along: [1, 0, 0], inHand: false },
    { kind: "round", text: "⌀6.00", from: [10, 0, 5], to: [10, 20, 5], radius: 3, on: null, inHand: false },
  ];
  for (const view of Object.keys(standardViews)) {
    const eye = eyeAt(view), placed = place(sizes, eye, reach);
    assert.ok(placed.length >= 2, view);
    for (const one of placed) {
      assert.ok(Math.abs(one.reads[0]) > 1e-6 ? one.reads[0] > 0 : one.reads[1] < 0, `${view}: ${one.text} is read from below or from the right`);
      if (sizes.find(s => s.text === one.text)!.kind === "distance" && view !== "isometric") {
        const [a, b] = one.arrows.map(arrow => arrow.tip);
        assert.ok(Math.abs(Math.hypot(a[0] - b[0], a[1] - b[1]) * eye.mmPerPx - Number(one.text)) < 1e-6, `${view}: ${one.text}`);
      }
      for (const other of placed)
        if (other !== one) assert.ok(Math.hypot(other.at[0] - one.at[0], other.at[1] - one.at[1]) > 10, `${view}: ${one.text} stands on ${other.text}`);
    }
  }
});

test("what is measured along the sight is left out, and the one in hand shows where its jaws touch", () => {
  const along: Dimension = { kind: "distance", text: "20.00", from: [0, 0, 0], to: [0, 20, 0], along: [0, 1, 0], inHand: true };
  assert.equal(place([along], eyeAt("front"), outermost(box())).length, 0);
  assert.equal(place([along], eyeAt("top"), outermost(box()))[0].touches.length, 2);
});

test("a mesh of the wrong make or length is refused", () => {
  assert.throws(() => readMesh(new ArrayBuffer(24)), /no mesh/);
  const bytes = new ArrayBuffer(28);
  new Uint8Array(bytes).set(new TextEncoder().encode("SPM1"));
  assert.throws(() => readMesh(bytes), /24 bytes came with 28/);
  assert.equal(readMesh(bytes.slice(0, 24)).points.length, 0);
});

test("the margin on a surface is read in doublings from 1, and what is not judged is none", () => {
  const points = 3, bytes = new ArrayBuffer(12 + 32 * points + 12), view = new DataView(bytes);
  "SPF1".split("").forEach((c, k) => view.setUint8(k, c.charCodeAt(0)));
  view.setUint32(4, points, true); view.setUint32(8, 1, true);
  [4, 0.25, NaN].forEach((margin, k) => view.setFloat32(12 + 28 * points + 4 * k, margin, true));
  [0, 1, 2].forEach((p, k) => view.setUint32(12 + 32 * points + 4 * k, p, true));
  const field = readMargin(bytes);
  assert.deepEqual([...field.margins], [2, 1, -2, 1, 0, 0]);
  assert.deepEqual([...field.triangles], [0, 1, 2]);
  assert.throws(() => readMargin(bytes.slice(0, 40)));
  assert.throws(() => readMargin(new ArrayBuffer(4)));
});
