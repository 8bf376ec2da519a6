import type { PartMesh } from "./part-mesh.ts";
import { dot, type Triple } from "./eye.ts";

/** A plane that cuts the part open: what lies beyond it, n·p > at, is left out. */
export interface Cut { normal: Triple; at: number }

/** Ends of the pieces at which round faces turn away from the sight, x, y, z each, two a piece. */
export function outlines(mesh: PartMesh, facets: Float32Array, sight: Triple): number[] {
  const ends: number[] = [];
  const { turningEdges: edges, points } = mesh;
  for (let k = 0; k < edges.length; k += 4) {
    const one = 3 * edges[k + 2], other = 3 * edges[k + 3];
    const a = facets[one] * sight[0] + facets[one + 1] * sight[1] + facets[one + 2] * sight[2];
    const b = facets[other] * sight[0] + facets[other + 1] * sight[1] + facets[other + 2] * sight[2];
    // Faces seen exactly from the side count as turned away, so that a straight wall has its line once.
    if ((a < -1e-6) === (b < -1e-6)) continue;
    for (const p of [3 * edges[k], 3 * edges[k + 1]]) ends.push(points[p], points[p + 1], points[p + 2]);
  }
  return ends;
}

/** Outward normals of the triangles, x, y, z each. */
export function facetNormals(mesh: PartMesh): Float32Array {
  const { points: p, triangles: t } = mesh, normals = new Float32Array(t.length);
  for (let k = 0; k < t.length; k += 3) {
    const a = 3 * t[k], b = 3 * t[k + 1], c = 3 * t[k + 2];
    const ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2], vx = p[c] - p[a], vy = p[c + 1] - p[a + 1], vz = p[c + 2] - p[a + 2];
    const x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx, length = Math.hypot(x, y, z) || 1;
    normals[k] = x / length; normals[k + 1] = y / length; normals[k + 2] = z / length;
  }
  return normals;
}

/** Ends of the pieces in which a plane meets the surface, x, y, z each, two a piece. */
export function cutLines(mesh: PartMesh, cut: Cut): number[] {
  const { points: p, triangles: t } = mesh, ends: number[] = [];
  const height = (corner: number) => dot(cut.normal, [p[3 * t[corner]], p[3 * t[corner] + 1], p[3 * t[corner] + 2]]) - cut.at;
  for (let k = 0; k < t.length; k += 3) {
    const heights = [height(k), height(k + 1), height(k + 2)];
    if (heights.every(h => h >= 0) || heights.every(h => h < 0)) continue;
    for (let edge = 0; edge < 3; edge++) {
      const next = (edge + 1) % 3, from = heights[edge], to = heights[next];
      if ((from >= 0) === (to >= 0)) continue;
      const share = from / (from - to), a = 3 * t[k + edge], b = 3 * t[k + next];
      for (let axis = 0; axis < 3; axis++) ends.push(p[a + axis] + share * (p[b + axis] - p[a + axis]));
    }
  }
  return ends;
}

/** Ends of the pieces that bound the given faces, x, y, z each, two a piece. */
export function boundaries(mesh: PartMesh, faces: ReadonlySet<number>, faceOf: Float32Array): number[] {
  const { points: p, triangles: t, faceOfTriangle } = mesh, ends: number[] = [];
  if (faces.size === 0) return ends;
  const seen = new Map<number, [number, number]>(), most = p.length;
  for (let k = 0; k < t.length; k++) {
    if (!faces.has(faceOfTriangle[Math.floor(k / 3)])) continue;
    const a = t[k], b = t[k % 3 === 2 ? k - 2 : k + 1], key = Math.min(a, b) * most + Math.max(a, b);
    if (!seen.delete(key)) seen.set(key, [a, b]);
  }
  // Points belong to one face each: what is left over bounds a face, though perhaps towards another of the same choice.
  for (const [a, b] of seen.values()) {
    if (faceOf[a] !== faceOf[b]) continue;
    ends.push(p[3 * a], p[3 * a + 1], p[3 * a + 2], p[3 * b], p[3 * b + 1], p[3 * b + 2]);
  }
  return ends;
}
