// What is told of a design beside its picture: rows of a list, made of names and numbers.
import { made } from "./dom.js";
import { number, rounded } from "./numbers.js";

const PLACES = 2; // of what is told of a part, at the most

// A name, its value and its unit.
export function figureRow({ label, unit, value }, numbers) {
  const mark = unit === "deg" ? "\u00b0" : ` ${unit}`;
  return row(label, `${number(rounded(numbers.value(value), PLACES) + 0)}${mark}`);
}

// What a fleet of printers makes of a design, and what fails the most of them.
export function fleetRows({ name, needed, free, hold, both, cause, fails }) {
  const enough = 100 * both >= needed;
  const words = `${percent(both)} (${number(needed)} % wanted)`;
  const moves = `${percent(free)} move freely, ${percent(hold)} hold`;
  const why = cause ? `${moves}; commonest failure: ${cause} (${percent(fails)})` : moves;
  const told = row(`${name} fleet`, words);
  told.classList.toggle("few", !enough);
  return [told, made("div", { class: "why" }, made("dd", {}, why))];
}

function row(name, value) {
  return made("div", {}, made("dt", {}, name), made("dd", {}, value));
}

// 100 only where no printer is left out.
function percent(share) {
  const told = (100 * share).toFixed(1).replace(/\.0$/, "");
  return `${told === "100" && share < 1 ? ">99.9" : told} %`;
}
