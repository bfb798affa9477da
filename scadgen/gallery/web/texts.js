// The files of a hinge that hold its values as text: what draws it, and its job.
import { number } from "./numbers.js";
import { sha256 } from "./sha256.js";
import { slider } from "./sliders.js";

const PLACE = "\0"; // of the fingerprint, which is known when all else is there

function filled(slotted, fill) {
  return slotted.map((piece) => (typeof piece === "string" ? piece : fill[piece[0]](piece[1]))).join("");
}

// The file that draws the hinge with the module beside it: the maker's values in its Customizer,
// sealed by its fingerprint.
export function callText(data, given) {
  const text = filled(data.callText, {
    value: (name) => number(given[name]),
    slider: (name) => slider(data, given, name),
    fingerprint: () => PLACE,
  });
  const unsealed = text.replace(/^[^\n]*\0[^\n]*\n/m, "");
  return text.replace(PLACE, sha256(unsealed).slice(0, data.constants.fingerprintDigits));
}

// The job that proves the hinge as it prints: its layer is the thickest of those that have to do.
export function jobText(data, given) {
  const thinner = data.constants.layerHeights.filter((height) => height < given.layer);
  return filled(data.jobText, {
    value: (name) => number(given[name]),
    layers: () => [...thinner, given.layer].map(number).join(", "),
  });
}
