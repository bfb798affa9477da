// Numbers as Python writes and rounds them, so that texts from here and from there are the same.

const LONG = 1e15; // from here on a whole number is written by its power of ten
const SHOWN = 6; // digits of a number in a message
const EXACT = 100; // digits that tell all of a number that a maker may set

// Nearest whole number; half-way to the even one.
export function halfEven(value) {
  const below = Math.floor(value);
  const rest = value - below;
  if (rest !== 0.5) return Math.round(value);
  return below % 2 === 0 ? below : below + 1;
}

// To so many decimals of its exact value, as Python's round() does.
export function rounded(value, places) {
  const tie = Math.abs(value * 2 ** (places + 1)) % 2 === 1; // odd: exactly half-way
  return tie ? halfEven(value * 10 ** places) / 10 ** places : Number(value.toFixed(places));
}

// To so many decimals as numpy does it: by a factor.
export function roundedByFactor(value, places) {
  return halfEven(value * 10 ** places) / 10 ** places;
}

// Shortest literal that reads back as the value; a whole number has no point.
export function number(value) {
  if (Number.isInteger(value) && Math.abs(value) < LONG) return String(value + 0);
  const [digits, power] = Math.abs(value).toExponential().split("e");
  const text = spelt(digits.replace(".", ""), Number(power), 16);
  return sign(value) + (/^\d+$/.test(text) ? `${text}.0` : text);
}

// A number as a message shows it (six digits); anything else in quotes.
export function shown(value) {
  if (typeof value !== "number") return `'${value}'`;
  if (Number.isNaN(value)) return "nan";
  if (!Number.isFinite(value)) return value > 0 ? "inf" : "-inf";
  if (value === 0) return "0";
  const [digits, power] = leading(Math.abs(value));
  return sign(value) + spelt(digits.replace(/0+$/, "") || "0", power, SHOWN);
}

function sign(value) {
  return value < 0 ? "-" : "";
}

// The leading digits, rounded from all of them, and the power of ten of the first.
function leading(value) {
  const [mantissa, exponent] = value.toExponential(EXACT).split("e");
  const all = mantissa.replace(".", "");
  const rest = all.slice(SHOWN).replace(/0+$/, "");
  let kept = Number(all.slice(0, SHOWN));
  if (rest > "5" || (rest === "5" && kept % 2 === 1)) kept += 1;
  const digits = String(kept);
  const carried = digits.length > SHOWN ? 1 : 0;
  return [digits.slice(0, SHOWN), Number(exponent) + carried];
}

// Digits with their point, or with a power of ten below 0.0001 and from ten to the `most` on.
function spelt(digits, power, most) {
  if (power < -4 || power >= most) {
    const tail = digits.length > 1 ? `.${digits.slice(1)}` : "";
    const size = String(Math.abs(power)).padStart(2, "0");
    return `${digits[0]}${tail}e${power < 0 ? "-" : "+"}${size}`;
  }
  if (power < 0) return `0.${"0".repeat(-power - 1)}${digits}`;
  const whole = digits.slice(0, power + 1).padEnd(power + 1, "0");
  const tail = digits.slice(power + 1);
  return tail ? `${whole}.${tail}` : whole;
}
