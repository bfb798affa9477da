// A family's rules, held against values; the words are those of its module's assertions.
import { Numbers } from "./expressions.js";
import { rounded, roundedByFactor, shown } from "./numbers.js";

const KEPT = 6; // decimals of what an automatic value stands for

const byParts = (value) => Math.trunc(rounded(value, KEPT));
const ROUNDINGS = {
  alone: (value, whole) => (whole ? byParts(value) : rounded(value, KEPT)),
  inRows: (value) => roundedByFactor(value, KEPT), // as many hinges are read at once
};

// The values with what each 0 of an automatic field stands for.
export function resolved(data, values, rounding = "alone") {
  const found = { ...values };
  for (const one of data.automatic) {
    if (found[one.param] !== 0) continue;
    const numbers = new Numbers(data, found);
    const told = one.parameters.map((name, k) => [name, numbers.value(one.told[k])]);
    const value = new Numbers(data, Object.fromEntries(told)).value(one.value);
    found[one.param] = ROUNDINGS[rounding](value, one.whole);
  }
  return found;
}

// The numbers of a hinge with those values.
export function numbersOf(data, values) {
  return new Numbers(data, resolved(data, values));
}

// The first rule that does not hold, if any.
export function firstBroken(data, numbers) {
  return data.rules.find((rule) => !numbers.value(rule.holds)) ?? null;
}

// The ends that a field's bounds and its direct rules make, each with the rule that makes it.
export function ends(data, param, numbers) {
  const field = data.fields[param];
  let low = { at: field.low, rule: null };
  let high = { at: field.high, rule: null };
  for (const rule of data.rules) {
    if (rule.param !== param || !rule.direct) continue;
    const end = { at: numbers.value(rule.nearest), rule };
    if (rule.atLeast && end.at > low.at) low = end;
    else if (!rule.atLeast && end.at < high.at) high = end;
  }
  return [low, high];
}

// What a broken rule asks of its field, given the other values.
export function words(data, rule, numbers) {
  const field = data.fields[rule.param];
  const told = (end, sense) => {
    const why = end.rule ? `, ${end.rule.why}` : "";
    return `${sense} ${shown(end.at)}${field.suffix}${why}`;
  };
  if (!rule.direct) {
    return `it must be ${told({ at: numbers.value(rule.nearest), rule }, rule.sense)}.`;
  }
  const [low, high] = ends(data, rule.param, numbers);
  if (low.at <= high.at) {
    return `it must be ${shown(low.at)} to ${shown(high.at)}${field.suffix} here, ${rule.why}.`;
  }
  const both = `${told(low, "at least")}, and ${told(high, "at most")}`;
  return `it must be ${both}; no multiple of ${shown(field.step)}${field.suffix} works here.`;
}
