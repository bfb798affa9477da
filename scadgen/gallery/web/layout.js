// Where a section stands in its window, and where its dimensions and their entries go: all in px.

export const CHIP = { width: 76, height: 42 }; // of an entry with its name
const RIM = 12; // around all
const APART = 12; // from one dimension line to the next
const BETWEEN = 4; // entries

// Places near the wanted ones, in their order, a size apart and between two ends as far as they go.
export function spread(wanted, size, low, high) {
  const order = wanted.map((_, k) => k).sort((a, b) => wanted[a] - wanted[b]);
  const places = [];
  order.forEach((k, n) => (places[k] = Math.max(wanted[k], n ? places[order[n - 1]] + size : low)));
  let end = high - size;
  for (const k of order.reverse()) {
    places[k] = Math.max(low, Math.min(places[k], end));
    end = places[k] - size;
  }
  return places;
}

// `bodies`: outlines, mm; `spans`: dimensions by name. Gives what turns mm into px, and of each
// dimension its line, its ends on it, and the place of its entry.
export function arranged(bodies, spans, { width, height }) {
  const level = Object.entries(spans).filter(([, span]) => span.way === "x");
  const upright = Object.entries(spans).filter(([, span]) => span.way !== "x");
  const perRow = Math.max(1, Math.floor((width - 2 * RIM) / (CHIP.width + BETWEEN)));
  const rows = Math.ceil(level.length / perRow);
  const below = level.length ? APART * (level.length + 2) + rows * (CHIP.height + BETWEEN) : 0;
  const beside = upright.length ? APART * (upright.length + 1) + CHIP.width : 0;
  const room = { width: width - beside - 2 * RIM, height: height - below - 2 * RIM };
  const frame = framed(bodies, room);
  const places = {
    ...belowIt(level, frame, { width, rows }),
    ...besideIt(upright, frame, { width, height: height - below }),
  };
  return { at: frame.at, places };
}

function framed(bodies, room) {
  const corners = bodies.flat(2);
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = Math.max(0.1, Math.min(room.width / (right - left), room.height / (high - low)));
  const aside = RIM + (room.width - scale * (right - left)) / 2;
  const down = RIM + (room.height - scale * (high - low)) / 2;
  const at = ([x, y]) => [aside + scale * (x - left), down + scale * (high - y)];
  return { at, right: aside + scale * (right - left), bottom: down + scale * (high - low) };
}

const middle = (one, other) => (one + other) / 2;

// Short dimensions stand nearer to the outlines than long ones.
function byLength(dimensions, frame, way) {
  const length = ([, { ends }]) => Math.abs(frame.at(ends[0])[way] - frame.at(ends[1])[way]);
  return [...dimensions].sort((one, other) => length(one) - length(other));
}

function belowIt(dimensions, frame, { width, rows }) {
  const sorted = byLength(dimensions, frame, 0);
  const mids = sorted.map(([, { ends }]) => middle(frame.at(ends[0])[0], frame.at(ends[1])[0]));
  const order = mids.map((_, k) => k).sort((a, b) => mids[a] - mids[b]);
  const row = []; // neighbours stand in different rows
  order.forEach((k, n) => (row[k] = n % Math.max(1, rows)));
  const chips = [];
  for (let n = 0; n < rows; n += 1) {
    const own = mids.map((_, k) => k).filter((k) => row[k] === n);
    const wanted = own.map((k) => mids[k] - CHIP.width / 2);
    spread(wanted, CHIP.width + BETWEEN, RIM, width - RIM + BETWEEN).forEach((x, i) => {
      chips[own[i]] = [x, frame.bottom + APART * (mids.length + 2) + n * (CHIP.height + BETWEEN)];
    });
  }
  return Object.fromEntries(
    sorted.map(([name, { ends }], k) => {
      const y = frame.bottom + APART * (k + 1);
      const [from, to] = ends.map(frame.at);
      const line = [[from[0], y], [to[0], y]];
      const leader = [[mids[k], y], [chips[k][0] + CHIP.width / 2, chips[k][1]]];
      return [name, { chip: chips[k], line, drops: [[from, line[0]], [to, line[1]]], leader }];
    }),
  );
}

function besideIt(dimensions, frame, { width, height }) {
  const sorted = byLength(dimensions, frame, 1);
  const mids = sorted.map(([, { ends }]) => middle(frame.at(ends[0])[1], frame.at(ends[1])[1]));
  const wanted = mids.map((y) => y - CHIP.height / 2);
  const tops = spread(wanted, CHIP.height + BETWEEN, RIM, height - RIM + BETWEEN);
  const left = width - RIM - CHIP.width;
  return Object.fromEntries(
    sorted.map(([name, { ends, way }], k) => {
      const [from, to] = ends.map(frame.at);
      const x = frame.right + APART * (k + 1);
      const square = way === "square";
      const line = square ? [from, to] : [[x, from[1]], [x, to[1]]];
      const start = square ? [middle(from[0], to[0]), mids[k]] : [x, mids[k]];
      const leader = [start, [left, tops[k] + CHIP.height / 2]];
      const drops = square ? [] : [[from, line[0]], [to, line[1]]];
      return [name, { chip: [left, tops[k]], line, drops, leader }];
    }),
  );
}
