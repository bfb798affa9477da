// The functions and operators of the expressions, as scadgen/trees/to_numpy.py has them.

const STEP = 15; // degrees; at whole steps sines are exact where a rounded pi would not be
const DIAGONAL = Math.sqrt(0.5);
const STEEP = Math.sqrt(0.75);
const RISING = [0, NaN, 0.5, DIAGONAL, STEEP, NaN, 1, NaN, STEEP, DIAGONAL, 0.5, NaN];
const SINES = [...RISING, ...RISING.map((sine) => -sine)];
const RADIANS = Math.PI / 180;
const DEGREES = 180 / Math.PI;

function sin(degrees) {
  let turn = degrees % 360;
  if (turn < 0) turn += 360;
  const smooth = Math.sin(turn * RADIANS);
  if (turn % STEP) return smooth;
  const exact = SINES[Math.trunc(turn / STEP) % SINES.length];
  return Number.isNaN(exact) ? smooth : exact;
}

const cos = (degrees) => sin(degrees + 90);

export const FUNCTIONS = {
  sin,
  cos,
  tan: (degrees) => sin(degrees) / cos(degrees),
  asin: (ratio) => Math.asin(ratio) * DEGREES,
  acos: (ratio) => Math.acos(ratio) * DEGREES,
  atan: (ratio) => Math.atan(ratio) * DEGREES,
  sqrt: Math.sqrt,
  abs: Math.abs,
  floor: Math.floor,
  ceil: Math.ceil,
  min: Math.min,
  max: Math.max,
};

export const OPERATORS = {
  "+": (a, b) => a + b,
  "-": (a, b) => a - b,
  "*": (a, b) => a * b,
  "/": (a, b) => a / b,
  "%": (a, b) => a % b,
  "<": (a, b) => a < b,
  "<=": (a, b) => a <= b,
  ">": (a, b) => a > b,
  ">=": (a, b) => a >= b,
  "==": (a, b) => a === b,
  "&&": (a, b) => Boolean(a && b),
  "||": (a, b) => Boolean(a || b),
  neg: (a) => -a,
};
