// Sections of a hinge as it prints, and where in them a field's value stands: found by changing it.
import { accepts } from "./fields.js";
import { refusal } from "./refusal.js";
import { resolved } from "./rules.js";

const FACET = 0.02; // mm: a bore is drawn around its circle, and a gap is as much wider
const FOLLOWS = 0.02; // share of a change by which a dimension may follow it less exactly
const LEAST = 1e-3; // mm: what is smaller is no dimension
const AWAY = 0.05; // of a dimension's worth, for each mm by which its two ends stand apart sideways
const EXACT = 100; // of its worth, for each mm by which it is not the value

const dot = (one, other) => one.reduce((sum, part, k) => sum + part * other[k], 0);

// The outlines of each body in each plane of the family's drawing: rings of corners, mm.
export function sections(drawer, data, given) {
  const printed = { ...given, [data.posed]: 0 };
  const solids = data.bodies.map((name) => drawer.part(data, printed, name));
  const boxes = solids.map((solid) => solid.boundingBox());
  return data.views.map(({ axes, share }) => {
    const { right, up, normal } = axes;
    const turned = [0, 1, 2].flatMap((k) => [right[k], up[k], normal[k], 0]);
    const places = boxes.flatMap(({ min, max }) => [dot(min, normal), dot(max, normal)]);
    const [low, high] = [Math.min(...places), Math.max(...places)];
    const at = share === null ? 0 : low + share * (high - low);
    return solids.map((solid) => {
      const level = drawer.keep(solid.transform([...turned, 0, 0, 0, 1]));
      return drawer.keep(level.slice(at)).toPolygons();
    });
  });
}

// In each plane the dimension that is the field's value: two places whose distance is the value
// and follows it. Null where there is none.
export function spans(drawer, data, given, views, name) {
  const value = resolved(data, given)[name];
  for (const step of stepsOf(data, given, name, value)) {
    const moved = sections(drawer, data, { ...given, [name]: value + step });
    const found = views.map((bodies, k) => {
      const places = bodies.flatMap((rings, body) => paired(rings, moved[k][body], body));
      const lengths = { value, step };
      return level(places, 0, lengths) ?? level(places, 1, lengths) ?? square(places, lengths);
    });
    if (found.some(Boolean)) return found;
  }
  return data.views.map(() => null);
}

// How well a length that becomes another is the value that changes; null where it is not.
function fit(length, then, { value, step }) {
  const off = Math.abs(length - value);
  return off < FACET && Math.abs(then - length - step) < FOLLOWS * Math.abs(step) ? -EXACT * off : null;
}

// Changes of a length that leave the hinge sound, a small one too: it may keep its outlines alike.
function stepsOf(data, given, name, value) {
  const field = data.fields[name];
  if (!field.drawn || !(value > LEAST)) return [];
  const sound = (step) => {
    const to = value + step;
    return accepts(field, to) && refusal(data, { ...given, [name]: to }) === null;
  };
  const sizes = field.whole ? [field.step] : [field.step, field.step / 8];
  return sizes.flatMap((size) => [size, -size].find(sound) ?? []);
}

// Each corner with where it has come, as far as rings are found again.
function paired(rings, moved, body) {
  const left = [...moved];
  return rings.flatMap((ring, k) => {
    const found = left
      .filter((other) => other.length === ring.length)
      .map((other) => ({ other, ...aligned(ring, other) }))
      .sort((one, other) => one.off - other.off)[0];
    if (!found) return [];
    left.splice(left.indexOf(found.other), 1);
    const to = (at) => found.other[(at + found.shift) % ring.length];
    return ring.map((from, at) => ({ from, to: to(at), body, ring: k, next: (at + 1) % ring.length, at }));
  });
}

// By how much a ring's corners are counted on in another, and how far they are then off.
function aligned(ring, other) {
  const n = ring.length;
  const offs = ring.map((_, shift) => {
    let sum = 0;
    for (let k = 0; k < n; k += 1) {
      const [a, b] = [ring[k], other[(k + shift) % n]];
      sum += Math.abs(a[0] - b[0]) + Math.abs(a[1] - b[1]);
    }
    return sum;
  });
  const off = Math.min(...offs);
  return { shift: offs.indexOf(off), off };
}

// A dimension along x (0) or y (1).
function level(places, way, lengths) {
  let best = null;
  for (let i = 0; i < places.length; i += 1) {
    for (let j = 0; j < i; j += 1) {
      const [a, b] = [places[i], places[j]];
      const fits = fit(Math.abs(a.from[way] - b.from[way]), Math.abs(a.to[way] - b.to[way]), lengths);
      if (fits === null) continue;
      const apart = AWAY * Math.abs(a.from[1 - way] - b.from[1 - way]);
      const worth = fits - apart - (a.body !== b.body) - (a.ring !== b.ring);
      if (best === null || worth > best.worth) best = { worth, ends: [a.from, b.from] };
    }
  }
  return best && { way: "xy"[way], ends: best.ends };
}

// A gap: from a corner of one body square to an edge of another.
function square(places, lengths) {
  const edges = places.map((start) => ({
    start,
    end: places.find(({ body, ring, at }) => body === start.body && ring === start.ring && at === start.next),
  }));
  for (const corner of places) {
    for (const { start, end } of edges) {
      if (start.body === corner.body) continue;
      const foot = footOf(corner.from, start.from, end.from);
      const then = footOf(corner.to, start.to, end.to);
      if (!foot || !then || fit(foot.off, then.off, lengths) === null) continue;
      return { way: "square", ends: [corner.from, foot.at] };
    }
  }
  return null;
}

function footOf([x, y], [a, b], [c, d]) {
  const [u, v] = [c - a, d - b];
  const along = ((x - a) * u + (y - b) * v) / (u * u + v * v);
  if (!(along >= 0 && along <= 1)) return null;
  const at = [a + along * u, b + along * v];
  return { at, off: Math.hypot(x - at[0], y - at[1]) };
}
