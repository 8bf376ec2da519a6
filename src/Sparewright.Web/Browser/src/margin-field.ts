/** The margin on the surface as the server sends it: "SPF1", counts of points and triangles, then the blocks. Lengths in mm. */
export interface MarginField {
  points: Float32Array;
  normals: Float32Array;
  /** Number in the face table for each point. */
  faces: Float32Array;
  /** For each point the doublings of the margin from 1, and 1 where it is judged, else 0. */
  margins: Float32Array;
  triangles: Uint32Array;
}

/** Where the load is nearest to breaking the part, on which face, and what is written there. */
export interface Extreme { at: [number, number, number]; face: number; text: string }

const headWords = 3, farthest = 20;

/** Reads the bytes; throws when they are no margin of ours. */
export function readMargin(bytes: ArrayBuffer): MarginField {
  if (bytes.byteLength < 4 * headWords || new TextDecoder("latin1").decode(bytes.slice(0, 4)) !== "SPF1") throw new Error("these bytes are no margin on a surface");
  const [points, triangles] = new Uint32Array(bytes, 4, headWords - 1), words = headWords + 8 * points + 3 * triangles;
  if (bytes.byteLength !== 4 * words) throw new Error(`a margin of ${4 * words} bytes came with ${bytes.byteLength}`);
  let at = 4 * headWords;
  const next = <T>(block: new (bytes: ArrayBuffer, at: number, count: number) => T, count: number) => { const read = new block(bytes, at, count); at += 4 * count; return read; };
  const places = next(Float32Array, 3 * points), normals = next(Float32Array, 3 * points), faces = next(Uint32Array, points), margins = next(Float32Array, points);
  const doublings = new Float32Array(2 * points);
  margins.forEach((margin, k) => {
    const isJudged = !Number.isNaN(margin);
    doublings[2 * k] = isJudged ? Math.max(-farthest, Math.min(farthest, Math.log2(margin))) : 0;
    doublings[2 * k + 1] = isJudged ? 1 : 0;
  });
  return { points: places, normals, faces: Float32Array.from(faces), margins: doublings, triangles: next(Uint32Array, 3 * triangles) };
}
