// The kernel in a worker of its own: draws solids and tries values, so that the page stays quick.
// Built into kernel.bundle.js; KERNEL is the kernel's WebAssembly, packed, which the build puts in.
import { gunzipSync } from "fflate";
import start from "manifold-3d/manifold.js";
import { creases } from "./edges.js";
import { freeWords, ranges, working } from "./free.js";
import { share } from "./fleet.js";
import { leastGap } from "./gap.js";
import { sections, spans } from "./section.js";
import { Drawer } from "./solids.js";

const FINE = 1e-5; // mm; corners of written models that stand out less are left out

const families = {};
let fleets = null;
let cut = { key: "", views: [] }; // the last sections
const unpacked = gunzipSync(Uint8Array.from(atob(KERNEL), (c) => c.charCodeAt(0)));
const started = start({ wasmBinary: unpacked, locateFile: (name) => name }).then((kernel) => {
  kernel.setup();
  return new Drawer(kernel);
});

// A solid's corners and triangles, those corners being one that the kernel keeps apart.
function surface(solid) {
  const mesh = solid.getMesh();
  const { numProp, vertProperties, triVerts, mergeFromVert, mergeToVert } = mesh;
  const count = vertProperties.length / numProp;
  const positions = new Float32Array(3 * count);
  for (let k = 0; k < count; k += 1) {
    positions.set(vertProperties.subarray(k * numProp, k * numProp + 3), 3 * k);
  }
  const triangles = Uint32Array.from(triVerts);
  if (mergeFromVert?.length) {
    const same = new Map([...mergeFromVert].map((from, k) => [from, mergeToVert[k]]));
    triangles.forEach((corner, k) => (triangles[k] = same.get(corner) ?? corner));
  }
  return { positions, triangles };
}

function box(solids) {
  const boxes = solids.map((solid) => solid.boundingBox());
  const over = (pick, key) => [0, 1, 2].map((k) => pick(...boxes.map((each) => each[key][k])));
  return { low: over(Math.min, "min"), high: over(Math.max, "max") };
}

function sectionsOf(drawer, family, given) {
  const key = JSON.stringify([family, given]);
  if (cut.key !== key) cut = { key, views: sections(drawer, families[family], given) };
  return cut.views;
}

const ANSWERS = {
  family(_, { data }) {
    families[data.name] = data;
    return true;
  },
  fleets(_, told) {
    fleets = told;
    return true;
  },
  share: (_, { family, given, row }) => share(families[family], given, fleets, row),
  // What is drawn of a hinge: its bodies with the lines on them.
  solids(drawer, { family, given }) {
    const data = families[family];
    const solids = data.bodies.map((name) => drawer.part(data, given, name));
    const bodies = solids.map((solid, k) => {
      const { positions, triangles } = surface(solid);
      return { name: data.bodies[k], positions, triangles, edges: creases(positions, triangles) };
    });
    const volume = solids.reduce((sum, solid) => sum + solid.volume(), 0);
    return { bodies, volume, ...box(solids) };
  },
  // What is written of a hinge: its bodies, simplified as finely as files tell.
  model(drawer, { family, given }) {
    const data = families[family];
    return data.bodies.map((name) => {
      const fine = drawer.keep(drawer.keep(drawer.part(data, given, name).asOriginal()).simplify(FINE));
      return { name, ...surface(fine) };
    });
  },
  sections: (drawer, { family, given }) => sectionsOf(drawer, family, given),
  // Where a field's value stands in them.
  spans(drawer, { family, given, name }) {
    return spans(drawer, families[family], given, sectionsOf(drawer, family, given), name);
  },
  gap: (drawer, { family, given }) => leastGap(drawer, families[family], given),
  // What each field may be while the others stay: the ends, and all of it in words.
  ranges(_, { family, given }) {
    const data = families[family];
    const told = Object.keys(data.fields).map((name) => {
      const values = working(data, given, name);
      const rows = ranges(data, name, values);
      const [low, high] = [values[0] ?? null, values.at(-1) ?? null];
      return [name, { low, high, count: rows.length, words: freeWords(data, name, values) }];
    });
    return Object.fromEntries(told);
  },
};

self.onmessage = async ({ data: { id, kind, question } }) => {
  const drawer = await started;
  try {
    self.postMessage({ id, answer: ANSWERS[kind](drawer, question) });
  } catch (error) {
    self.postMessage({ id, error: error.message ?? String(error) });
  } finally {
    drawer.drop();
  }
};
