// A field's own bounds: what it accepts, what is nearest to a value, its steps.
import { halfEven, rounded, roundedByFactor } from "./numbers.js";

const KEPT = 6; // decimals: the micrometre

const isNumber = (value) => typeof value === "number";

export function accepts(field, value) {
  if (!Number.isFinite(value)) return false;
  if (field.automatic && value === 0) return true;
  if (value < field.low || value > field.high) return false;
  return !field.whole || value % field.step === 0;
}

// The accepted value closest to any.
export function nearest(field, value) {
  if (!isNumber(value) || Number.isNaN(value)) return field.usual;
  if (field.automatic && value === 0) return 0;
  const whole = field.whole && Number.isFinite(value);
  const wanted = whole ? halfEven(value / field.step) * field.step : value;
  return Math.min(Math.max(wanted, field.low), field.high);
}

// The accepted value on the steps closest to any.
export function onStep(field, value) {
  return nearest(field, halfEven(value / field.step) * field.step);
}

// A value as it is kept.
export function clean(field, value) {
  return field.whole ? Math.trunc(value) : rounded(value, KEPT) + 0;
}

// All values on the steps.
export function steps(field, digits) {
  const count = halfEven((field.high - field.low) / field.step);
  return Array.from({ length: count + 1 }, (_, k) =>
    roundedByFactor(field.low + k * field.step, digits),
  );
}

// What every field is where nothing is said of it.
export function initial(data) {
  return Object.fromEntries(Object.entries(data.fields).map(([name, field]) => [name, field.initial]));
}
