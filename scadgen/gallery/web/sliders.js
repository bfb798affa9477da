// The sliders of a hinge in OpenSCAD's Customizer: as scadgen/openscad/sliders.py makes them.
import { initial } from "./fields.js";
import { working } from "./free.js";
import { number, rounded, roundedByFactor } from "./numbers.js";

// What stands behind a field's value: a range, or values to choose from.
export function slider(data, own, name) {
  const field = data.fields[name];
  if (field.labels.length) return `[${field.labels.map((label, k) => `${k}:${label}`).join(", ")}]`;
  const usual = initial(data);
  const untouched = Object.keys(usual).every((key) => usual[key] === own[key]);
  const also = untouched ? Object.values(data.presets).map((preset) => preset[name]) : [];
  const opening = `${data.name}_${name} = ${number(own[name])};  // `;
  const room = data.constants.width - opening.length;
  return range(data.constants, field, own[name], working(data, own, name), also, room);
}

function range(constants, field, own, values, also, room) {
  let stride = field.step;
  let kept = values;
  const apart = kept[1] - kept[0];
  if (field.automatic) {
    kept = [0, ...kept];
  } else if (kept.length > 1 && !isEven(constants, kept, stride)) {
    const share = ((kept.at(-1) - kept[0]) / stride + 1) * constants.passed;
    if (isEven(constants, kept, apart)) stride = rounded(apart, constants.digits);
    else if (kept.length >= share) kept = values; // a slider may pass over the few left out
    else if (kept.length <= constants.valuesListed) return listed(kept, [own, ...also], room);
    else kept = around(constants, own, kept, stride);
  }
  const reach = [own, ...also, ...kept];
  const low = Math.min(...reach);
  const high = Math.max(...reach);
  const different = new Set(reach.map((value) => roundedByFactor(value, constants.digits))).size;
  const wide = different < constants.passed * ((high - low) / stride + 1);
  if (wide && !field.automatic && kept.length <= constants.valuesListed) {
    const text = listed(kept, [own, ...also], room, true);
    if (text) return text;
  }
  return low < high ? `[${[low, stride, high].map(number).join(":")}]` : number(stride);
}

// As many as fit, if need be of every other value; as a `whole` all of them, or nothing.
function listed(kept, needed, room, whole = false) {
  const values = [...new Set([...kept, ...needed])].sort((a, b) => a - b).map(number);
  for (const between of [", ", ","]) {
    const text = `[${values.join(between)}]`;
    if (text.length <= room || kept.length <= 2) return text;
  }
  if (whole) return "";
  return listed([...kept.slice(0, 1), ...kept.slice(1).filter((_, k) => k % 2 === 0)], needed, room);
}

function isEven({ uneven }, values, stride) {
  return values
    .slice(1)
    .every((value, k) => Math.abs(value - values[k] - stride) < uneven * stride);
}

// The values of the row that the hinge's own lies in or next to.
function around({ uneven }, own, kept, stride) {
  const rows = [[kept[0]]];
  kept.slice(1).forEach((value, k) => {
    if (value - kept[k] > stride * (1 + uneven)) rows.push([]);
    rows.at(-1).push(value);
  });
  const off = (row) => Math.min(...row.map((value) => Math.abs(value - own)));
  return rows.reduce((best, row) => (off(row) < off(best) ? row : best));
}
