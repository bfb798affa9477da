// Whether values make a sound hinge, and if not, why and what is nearest: as hinge/validate.py.
import { accepts, clean, nearest, onStep } from "./fields.js";
import { free, freeWords } from "./free.js";
import { shown } from "./numbers.js";
import { firstBroken, numbersOf, resolved, words } from "./rules.js";

const TRIES = 4; // times as often as there are rules

// What is wrong with the values first, or null. `text` says all of it; `works` are the changes.
export function refusal(data, given) {
  for (const name of data.checked) {
    const field = data.fields[name];
    if (!accepts(field, given[name])) return told(data, name, given, given[name], field.words);
  }
  const kept = cleaned(data, given);
  const numbers = numbersOf(data, kept);
  const broken = firstBroken(data, numbers);
  if (!broken) return null;
  const { param } = broken;
  return told(data, param, kept, resolved(data, kept)[param], words(data, broken, numbers));
}

// The values as they are kept.
export function cleaned(data, given) {
  return mapped(data, (field, name) => clean(field, given[name]));
}

function told(data, param, given, value, rule) {
  const { suffix } = data.fields[param];
  const works = nearestSound(data, given);
  const changes = Object.entries(works).map(([name, to]) => `${name} = ${shown(to)}`);
  const works_ = changes.length ? ` This works: ${changes.join(", ")}.` : "";
  const freedom = freedomWords(data, param, given, rule);
  const opening = `${data.name}(): ${param} = ${shown(value)}${suffix}; ${rule}`;
  return { param, rule, works, freedom, text: `${opening}${freedom}${works_}` };
}

// What is free, where the rule does not tell it.
function freedomWords(data, param, given, rule) {
  const values = free(data, given, param);
  if (!values) return "";
  const { suffix } = data.fields[param];
  const found = values.length ? `${freeWords(data, param, values)}${suffix}` : "nothing";
  const opening = `it must be ${found}`;
  const rest = rule.startsWith(opening) ? rule.slice(opening.length) : null;
  const isTold = rest !== null && (/^[ ,]/.test(rest) || rest === ".");
  return isTold ? "" : ` With the rest as it is: ${found}.`;
}

// The changes that make a sound hinge, as few and small as found.
export function nearestSound(data, given) {
  const start = mapped(data, (field, name) => {
    const close = Number.isFinite(given[name]) ? nearest(field, given[name]) : field.usual;
    return clean(field, close);
  });
  const sound = byLimits(data, start) ?? byBlending(data, start);
  const changed = Object.entries(sound).filter(([name, value]) => {
    const field = data.fields[name];
    return !accepts(field, given[name]) || value !== clean(field, given[name]);
  });
  return Object.fromEntries(changed);
}

function byLimits(data, start) {
  const values = { ...start };
  for (let tries = 0; tries < TRIES * data.rules.length; tries += 1) {
    const numbers = numbersOf(data, values);
    const broken = firstBroken(data, numbers);
    if (!broken) return values;
    const field = data.fields[broken.param];
    const limit = numbers.value(broken.nearest);
    const moved = Number.isFinite(limit) ? clean(field, nearest(field, limit)) : field.usual;
    if (moved === values[broken.param]) return null;
    values[broken.param] = moved;
  }
  return null;
}

function byBlending(data, start) {
  const end = mapped(data, (field, name) => (start[name] === 0 ? field.initial : field.usual));
  const { blends } = data.constants;
  for (let blend = 1; blend <= blends; blend += 1) {
    const values = mapped(data, (field, name) => {
      const way = end[name] - start[name];
      return clean(field, onStep(field, start[name] + (way * blend) / blends));
    });
    if (!firstBroken(data, numbersOf(data, values))) return values;
  }
  return end;
}

function mapped(data, give) {
  const found = Object.entries(data.fields).map(([name, field]) => [name, give(field, name)]);
  return Object.fromEntries(found);
}
