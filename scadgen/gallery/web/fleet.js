// What share of a fleet of printers makes a hinge that works: the same formulas on the same
// printers as in scadgen/proof/fleet. All of them are data; nothing of a printer is known here.
import { numbersOf } from "./rules.js";

// Of the fleet in a row what share of its printers moves freely, holds, and does both, 0 to 1, and
// what fails the most of them.
export function share(data, given, { perMm, count, fleets }, row) {
  const numbers = numbersOf(data, given);
  const { name, needed, factor, errors } = fleets[row];
  const told = Object.entries(errors);
  const causes = new Map();
  const hits = { free: 0, hold: 0, both: 0 };
  for (let k = 0; k < count; k += 1) {
    const own = told.map(([error, steps]) => [error, (Array.isArray(steps) ? steps[k] : steps) / perMm]);
    const works = printed(data, numbers.within(Object.fromEntries(own)), causes);
    for (const kind of Object.keys(hits)) hits[kind] += works[kind];
  }
  const shared = Object.entries(hits).map(([kind, sum]) => [kind, sum / count]);
  return { name, needed, factor, ...Object.fromEntries(shared), ...commonest(causes, count) };
}

// Whether the hinge works on one printer; counts in `causes` what fails.
function printed(data, numbers, causes) {
  const works = { free: true, hold: true };
  for (const { cause, frees, value } of data.margins) {
    if (numbers.value(value) >= -data.constants.fleetGrain) continue;
    works[frees ? "free" : "hold"] = false;
    causes.set(cause, (causes.get(cause) ?? 0) + 1);
  }
  return { ...works, both: works.free && works.hold };
}

function commonest(causes, count) {
  const [first] = [...causes].sort((one, other) => other[1] - one[1]);
  return first ? { cause: first[0], fails: first[1] / count } : { cause: null, fails: 0 };
}
