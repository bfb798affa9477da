// What is told of a design beside its picture: rows of a list, made of names and numbers.
import { made } from "./dom.js";
import { number, rounded } from "./numbers.js";

const PLACES = 2; // of what is told of a part, at the most

// A name, its value and its unit.
export function figureRow({ label, unit, value }, numbers) {
  const mark = unit === "deg" ? "\u00b0" : ` ${unit}`;
  return row(label, `${number(rounded(numbers.value(value), PLACES) + 0)}${mark}`);
}

// What fleets of printers make of a design, what fails the most of them, and what they make of it
// if the errors that are assumed of them are larger or smaller.
export function fleetRows(found) {
  const usual = found.filter(({ factor }) => factor === 1);
  return usual.flatMap((one) => fleetRow(one, found.filter(({ name }) => name === one.name)));
}

function fleetRow({ name, needed, free, hold, both, cause, fails }, all) {
  const told = row(`${name} fleet`, `${percent(both)} (${number(needed)} % wanted)`);
  told.classList.toggle("few", 100 * both < needed);
  const ends = (values) => [Math.min(...values), Math.max(...values)];
  const [low, high] = ends(all.map((one) => one.both)).map(percent);
  const [least, most] = ends(all.map((one) => one.factor));
  const moves = `${percent(free)} move freely, ${percent(hold)} hold`;
  const why = cause ? `; commonest failure: ${cause} (${percent(fails)})` : "";
  const span = `; ${low} to ${high} if their errors are ${least} to ${most} times as large`;
  const words = `${moves}${why}${all.length > 1 ? span : ""}`;
  return [told, made("div", { class: "why" }, made("dd", {}, words))];
}

function row(name, value) {
  return made("div", {}, made("dt", {}, name), made("dd", {}, value));
}

// 100 only where no printer is left out.
function percent(share) {
  const told = (100 * share).toFixed(1).replace(/\.0$/, "");
  return `${told === "100" && share < 1 ? ">99.9" : told} %`;
}
