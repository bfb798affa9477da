// The free range of a field: its values, on its steps, that work while the others stay.
import { Numbers } from "./expressions.js";
import { accepts, steps } from "./fields.js";
import { shown } from "./numbers.js";
import { resolved } from "./rules.js";

// The values of a field with which the hinge is sound; `own` are given values of all fields.
export function working(data, own, name) {
  return steps(data.fields[name], data.constants.digits).filter((value) =>
    isSound(data, { ...own, [name]: value }),
  );
}

function isSound(data, given) {
  const values = resolved(data, given, "inRows");
  const inBounds = Object.entries(data.fields).every(
    ([name, { low, high, whole, step }]) =>
      values[name] >= low && values[name] <= high && !(whole && values[name] % step !== 0),
  );
  if (!inBounds) return false;
  const numbers = new Numbers(data, values);
  return data.rules.every((rule) => numbers.value(rule.holds));
}

// The free range beside what is given; null where that is no number in its bounds.
export function free(data, given, name) {
  const own = { ...given, [name]: data.fields[name].usual };
  const known = Object.entries(data.fields).every(([other, field]) => accepts(field, own[other]));
  return known ? working(data, own, name) : null;
}

// The ranges of values that follow each other step by step.
export function ranges(data, name, values) {
  const rows = [];
  const most = data.fields[name].step * (1 + data.constants.uneven);
  for (const value of values) {
    const last = rows.at(-1);
    if (last && value - last[1] < most) last[1] = value;
    else rows.push([value, value]);
  }
  return rows;
}

// The ranges in words, without their unit.
export function freeWords(data, name, values) {
  const found = ranges(data, name, values).map(([low, high]) =>
    low === high ? shown(low) : `${shown(low)} to ${shown(high)}`,
  );
  const listed = data.constants.rangesListed;
  if (found.length <= listed) return found.join(", ");
  return `${found.slice(0, listed).join(", ")} and more up to ${shown(values.at(-1))}`;
}
