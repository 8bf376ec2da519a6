/** The part's triangles and lines as the server sends them: "SPM1", five counts, then the blocks. Lengths in mm. */
export interface PartMesh {
  /** x, y, z of each point; each face has points of its own. */
  points: Float32Array;
  /** Outward unit normals of the exact surface. */
  normals: Float32Array;
  /** Three points a triangle. */
  triangles: Uint32Array;
  /** Number in the face table for each triangle, never falling. */
  faceOfTriangle: Uint32Array;
  /** Two points for each piece of an edge where faces meet at an angle. */
  sharpEdges: Uint32Array;
  /** Two points for each piece of an edge where one face runs into the next. */
  smoothEdges: Uint32Array;
  /** Two points and the two triangles beside them, where a round face may turn away from the eye. */
  turningEdges: Uint32Array;
}

const headWords = 6;

/** Reads the bytes; throws when they are not a mesh of ours. */
export function readMesh(bytes: ArrayBuffer): PartMesh {
  if (bytes.byteLength < 4 * headWords || new TextDecoder("latin1").decode(bytes.slice(0, 4)) !== "SPM1") throw new Error("these bytes are no mesh of a part");
  const [points, triangles, sharp, smooth, turning] = new Uint32Array(bytes, 4, headWords - 1);
  const words = headWords + 6 * points + 4 * triangles + 2 * sharp + 2 * smooth + 4 * turning;
  if (bytes.byteLength !== 4 * words) throw new Error(`a mesh of ${4 * words} bytes came with ${bytes.byteLength}`);
  let at = 4 * headWords;
  const floats = (count: number) => { const block = new Float32Array(bytes, at, count); at += 4 * count; return block; };
  const whole = (count: number) => { const block = new Uint32Array(bytes, at, count); at += 4 * count; return block; };
  return {
    points: floats(3 * points), normals: floats(3 * points), triangles: whole(3 * triangles), faceOfTriangle: whole(triangles),
    sharpEdges: whole(2 * sharp), smoothEdges: whole(2 * smooth), turningEdges: whole(4 * turning),
  };
}

/** The face to which each point belongs. */
export function faceOfPoint(mesh: PartMesh): Float32Array {
  const faces = new Float32Array(mesh.points.length / 3);
  mesh.triangles.forEach((point, corner) => { faces[point] = mesh.faceOfTriangle[Math.floor(corner / 3)]; });
  return faces;
}

/** The points that lie farthest out in many directions: enough to say how far the part reaches on any page. */
export function outermost(mesh: PartMesh, directions = 300): Float32Array {
  const { points } = mesh, chosen = new Set<number>();
  for (let k = 0; k < directions; k++) {
    // Spread evenly over the sphere by the golden angle.
    const z = 1 - (2 * k + 1) / directions, ring = Math.sqrt(1 - z * z), angle = k * 2.399963229728653;
    const x = ring * Math.cos(angle), y = ring * Math.sin(angle);
    let best = 0, reach = -Infinity;
    for (let p = 0; p < points.length; p += 3) {
      const here = points[p] * x + points[p + 1] * y + points[p + 2] * z;
      if (here > reach) { reach = here; best = p; }
    }
    chosen.add(best);
  }
  return Float32Array.from([...chosen].flatMap(p => [points[p], points[p + 1], points[p + 2]]));
}
