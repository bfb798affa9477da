// How near the bodies of a hinge are to each other as they print, measured on their solids.

export const FARTHEST = 2; // mm, looked for: more than a gap that is meant

// The least gap between any two bodies, mm: FARTHEST if it is more; null for a single body.
export function leastGap(drawer, data, given) {
  const printed = { ...given, [data.posed]: 0 };
  const solids = data.bodies.map((name) => drawer.part(data, printed, name));
  const gaps = solids.flatMap((one, k) =>
    solids.slice(k + 1).map((other) => one.minGap(other, FARTHEST)),
  );
  return gaps.length ? Math.min(...gaps) : null;
}
