// Lines to draw on a solid: the edges at which two of its faces meet at more than an angle.

const CREASE = Math.cos((30 * Math.PI) / 180);

function normals(positions, triangles) {
  const found = new Float64Array(triangles.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const u = [0, 1, 2].map((k) => positions[b + k] - positions[a + k]);
    const v = [0, 1, 2].map((k) => positions[c + k] - positions[a + k]);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const length = Math.hypot(...n);
    if (length) found.set(n.map((part) => part / length), t); // a sliver has none, and no crease
  }
  return found;
}

// Ends of the lines, six numbers each.
export function creases(positions, triangles) {
  const faces = normals(positions, triangles);
  const corners = positions.length / 3;
  const open = new Map(); // by its corners, the face at the other side of an edge
  const lines = [];
  for (let t = 0; t < triangles.length; t += 3) {
    for (let k = 0; k < 3; k += 1) {
      const [a, b] = [triangles[t + k], triangles[t + ((k + 1) % 3)]];
      const other = open.get(b * corners + a);
      if (other === undefined) {
        open.set(a * corners + b, t);
        continue;
      }
      open.delete(b * corners + a);
      const [n, m] = [faces.subarray(t, t + 3), faces.subarray(other, other + 3)];
      const flat = !n.some(Boolean) || !m.some(Boolean);
      if (flat || n[0] * m[0] + n[1] * m[1] + n[2] * m[2] > CREASE) continue;
      for (const corner of [a, b]) lines.push(...positions.subarray(3 * corner, 3 * corner + 3));
    }
  }
  return new Float32Array(lines);
}
