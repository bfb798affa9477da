// Solids as the bytes of STL and 3MF files, in mm; see scadgen/meshfiles/writing.py.
import { strToU8, zipSync } from "fflate";

const HEAD = 80; // bytes of a binary STL that say nothing
const FACET = 50; // bytes of a triangle in it
const EARLIEST = new Date(1980, 0, 1); // so that nothing depends on the clock

// Binary STL of all bodies together. Normals are left to the reader, which goes by the corners.
export function stl(bodies) {
  const count = bodies.reduce((sum, { triangles }) => sum + triangles.length / 3, 0);
  const view = new DataView(new ArrayBuffer(HEAD + 4 + FACET * count));
  view.setUint32(HEAD, count, true);
  let at = HEAD + 4;
  for (const { positions, triangles } of bodies) {
    triangles.forEach((corner, k) => {
      const place = at + FACET * Math.floor(k / 3) + 12 * (1 + (k % 3));
      for (const axis of [0, 1, 2]) view.setFloat32(place + 4 * axis, positions[3 * corner + axis], true);
    });
    at += (FACET * triangles.length) / 3;
  }
  return new Uint8Array(view.buffer);
}

// 3MF of the bodies, each under its name, held together as one object.
export function threeMf(data, bodies) {
  const { parts, opening, digits } = data.threeMf;
  const whole = bodies.length + 1;
  const components = bodies.map((_, k) => `<component objectid="${k + 1}"/>\n`).join("");
  const model =
    `${opening}<resources>\n${bodies.map((body, k) => object(body, k + 1, digits)).join("")}` +
    `<object id="${whole}" name="${data.jobName}" type="model"><components>\n${components}` +
    `</components></object>\n</resources>\n<build><item objectid="${whole}"/></build>\n</model>\n`;
  const texts = Object.entries({ ...parts, "3D/3dmodel.model": model });
  return zipSync(Object.fromEntries(texts.map(([path, text]) => [path, strToU8(text)])), {
    mtime: EARLIEST,
  });
}

function object({ name, positions, triangles }, number, digits) {
  const corners = [];
  for (let k = 0; k < positions.length; k += 3) {
    const [x, y, z] = [0, 1, 2].map((axis) => positions[k + axis].toFixed(digits));
    corners.push(`<vertex x="${x}" y="${y}" z="${z}"/>\n`);
  }
  const faces = [];
  for (let k = 0; k < triangles.length; k += 3) {
    const [a, b, c] = triangles.subarray(k, k + 3);
    faces.push(`<triangle v1="${a}" v2="${b}" v3="${c}"/>\n`);
  }
  return (
    `<object id="${number}" name="${name}" type="model"><mesh><vertices>\n${corners.join("")}` +
    `</vertices><triangles>\n${faces.join("")}</triangles></mesh></object>\n`
  );
}
