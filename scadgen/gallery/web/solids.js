// Solids of a hinge on the kernel: the shapes in a family's data, corner for corner as Python's.
import { numbersOf } from "./rules.js";

// Draws parts; what the kernel holds for it is given back by `drop`.
export class Drawer {
  constructor(kernel) {
    this.kernel = kernel;
    this.held = [];
  }

  // The solid of one part with the given values; it lives until the next `drop`.
  part(data, given, name) {
    const numbers = numbersOf(data, given);
    const pieces = data.pieces.filter((piece) => piece.parts.includes(name));
    if (!pieces.length) throw new Error(`${data.name}: no part is called ${name}`);
    return this.combined(
      "union",
      3,
      pieces.map((piece) => this.draw(data, piece.solid, numbers, null)),
    );
  }

  drop() {
    for (const solid of this.held) solid.delete();
    this.held = [];
  }

  keep(solid) {
    this.held.push(solid);
    return solid;
  }

  kind(dim) {
    return dim === 2 ? this.kernel.CrossSection : this.kernel.Manifold;
  }

  combined(op, dim, parts) {
    return parts.length === 1 ? parts[0] : this.keep(this.kind(dim)[op](parts));
  }

  nothing(dim) {
    return this.keep(this.kind(dim).union([]));
  }

  draw(data, row, numbers, child) {
    const [dim, kind, ...said] = data.shapes[row];
    const read = READERS[kind];
    if (!read) throw new Error(`no solid for ${kind}`);
    const below = (other, inner = numbers) => this.draw(data, other, inner, child);
    return read({ drawer: this, data, dim, numbers, child, below }, ...said);
  }
}

function measure(numbers, row) {
  const value = numbers.value(row);
  if (!Number.isFinite(value)) throw new Error("a measure of the shape is not a finite number");
  return value;
}

const measures = (numbers, rows) => rows.map((row) => measure(numbers, row));
const facets = (numbers) => Math.trunc(numbers.symbols.facets);

// The numbers in each turn of a loop.
function turns(numbers, index, count) {
  const times = Math.trunc(measure(numbers, count));
  return Array.from({ length: times }, (_, k) => numbers.within({ [index]: k }));
}

// A point, or a run of them.
function corners(numbers, point) {
  if (typeof point[0] === "number") return [measures(numbers, point)];
  const [index, count, place] = point;
  return turns(numbers, index, count).map((inner) => measures(inner, place));
}

const READERS = {
  polygon({ drawer, numbers }, points) {
    const ring = points.flatMap((point) => corners(numbers, point));
    return drawer.keep(new drawer.kernel.CrossSection([ring], "EvenOdd"));
  },
  circle({ drawer, numbers }, radius) {
    const { CrossSection } = drawer.kernel;
    return drawer.keep(CrossSection.circle(measure(numbers, radius), facets(numbers)));
  },
  square({ drawer, numbers }, size) {
    return drawer.keep(drawer.kernel.CrossSection.square(measures(numbers, size)));
  },
  extruded({ drawer, numbers, below }, outline, height, centered) {
    const rise = measure(numbers, height);
    const section = below(outline);
    if (section.isEmpty()) return drawer.nothing(3); // the kernel would call it an error
    const solid = drawer.keep(section.extrude(rise));
    return centered ? drawer.keep(solid.translate([0, 0, -rise / 2])) : solid;
  },
  revolved({ drawer, numbers, below }, outline) {
    const section = below(outline);
    return section.isEmpty() ? drawer.nothing(3) : drawer.keep(section.revolve(facets(numbers)));
  },
  combined({ drawer, dim, below }, op, parts) {
    return drawer.combined(op, dim, parts.map((part) => below(part)));
  },
  moved({ drawer, numbers, below }, op, by, moved) {
    const mesh = below(moved);
    let way = measures(numbers, by);
    if (mesh instanceof drawer.kernel.Manifold && way.length < 3) {
      way = op === "rotate" ? [0, 0, ...way] : [...way, 0]; // as an outline is moved
    }
    return drawer.keep(mesh[op](way.length === 1 ? way[0] : way));
  },
  noted({ below }, noted) {
    return below(noted);
  },
  drawn({ drawer, data, numbers, below }, module, args, applied) {
    const [, params, body] = data.modules[module];
    const given = params.map((name, k) => [name, measure(numbers, args[k])]);
    const inner = params.length ? numbers.within(Object.fromEntries(given)) : numbers;
    return drawer.draw(data, body, inner, applied === null ? null : below(applied));
  },
  repeated({ drawer, dim, numbers, below }, index, count, body) {
    const solids = turns(numbers, index, count).map((inner) => below(body, inner));
    return drawer.combined("union", dim, solids);
  },
  chosen({ drawer, dim, numbers, below }, cond, yes, no) {
    const taken = numbers.value(cond) ? yes : no;
    return taken === null ? drawer.nothing(dim) : below(taken);
  },
  child({ child }) {
    return child;
  },
};
