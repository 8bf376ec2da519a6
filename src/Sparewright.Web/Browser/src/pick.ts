import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from "three";
import { MeshBVH } from "three-mesh-bvh";
import type { Eye } from "./eye.ts";
import { dot, plus } from "./eye.ts";
import type { Cut } from "./lines.ts";
import type { PartMesh } from "./part-mesh.ts";

/** Finds the face that is seen at a place. Needs no drawing: it works on the triangles alone. */
export class Picker {
  private readonly tree: MeshBVH;
  private readonly ray = new Ray();
  private readonly mesh: PartMesh;

  constructor(mesh: PartMesh) {
    this.mesh = mesh;
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(mesh.points, 3));
    geometry.setIndex(new BufferAttribute(mesh.triangles, 1));
    // Indirect: the triangles keep their order, on which their faces hang.
    this.tree = new MeshBVH(geometry, { indirect: true });
  }

  /** The number of the face seen at a place of the page, or null where there is none or only cut material. */
  at(eye: Eye, x: number, y: number, farMm: number, cut: Cut | null): number | null {
    const from = plus(eye.fromPage(x, y), eye.sight, -farMm);
    this.ray.set(new Vector3(...from), new Vector3(...eye.sight));
    if (!cut) {
      const hit = this.tree.raycastFirst(this.ray, DoubleSide);
      return hit?.faceIndex == null ? null : this.mesh.faceOfTriangle[hit.faceIndex];
    }

    const left = this.tree.raycast(this.ray, DoubleSide)
      .filter(hit => dot(cut.normal, [hit.point.x, hit.point.y, hit.point.z]) <= cut.at)
      .sort((a, b) => a.distance - b.distance);
    if (left.length === 0 || left[0].faceIndex == null) return null;
    // Seen from inside: the cut goes through material there.
    const inward = left[0].face !== null && left[0].face !== undefined && left[0].face.normal.dot(this.ray.direction) > 0;
    return inward ? null : this.mesh.faceOfTriangle[left[0].faceIndex];
  }
}
