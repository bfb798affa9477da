// What a maker has set: a form and its values, the way back, and the address that tells it all.
import { initial } from "./fields.js";
import { number } from "./numbers.js";

const LONGEST = 4000; // letters of an address that is read
const TOLD = 3; // things of an address that are told as left out
const QUOTED = 24; // letters of each
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
const PAUSE = 900; // ms after which the next change of a field is a step of its own

export class Design {
  constructor() {
    this.forms = {}; // by name the values of each form, kept when another is looked at
    this.past = [];
    this.undone = [];
    this.last = { tag: null, at: 0 };
  }

  get given() {
    return this.forms[this.data.name];
  }

  // Shows a form: with its values as they were left, or with those of an address.
  choose(data, values = null) {
    this.data = data;
    this.last.tag = null;
    if (values) this.forms[data.name] = { ...initial(data), ...values };
    this.forms[data.name] ??= initial(data);
  }

  // Changes values; one field's changes without a pause are one step back.
  set(changes, tag = null) {
    const now = Date.now();
    const goesOn = tag !== null && tag === this.last.tag && now - this.last.at < PAUSE;
    if (!goesOn) this.past.push({ data: this.data, given: this.given });
    this.undone = [];
    this.last = { tag, at: now };
    this.forms[this.data.name] = { ...this.given, ...changes };
  }

  undo() {
    this.step(this.past, this.undone);
  }

  redo() {
    this.step(this.undone, this.past);
  }

  // To the last of some steps; the way back from there is one of the others.
  step(from, to) {
    const { data, given } = from.pop();
    to.push({ data, given: this.forms[data.name] });
    this.forms[data.name] = given;
    this.choose(data);
  }

  // Whether nothing is set.
  get isUsual() {
    const usual = initial(this.data);
    return Object.keys(usual).every((name) => usual[name] === this.given[name]);
  }

  // The part of the address that tells the design: the form, and what differs from its usual values.
  get address() {
    const usual = initial(this.data);
    const set = Object.entries(this.given).filter(
      ([name, value]) => value !== usual[name] && typeof value === "number",
    );
    const told = set.map(([name, value]) => `&${name}=${encodeURIComponent(number(value))}`).join("");
    return `#form=${this.data.name}${told}`;
  }
}

// What an address tells: the form, values, and in words what of it cannot be read. Null where it
// tells nothing. `known` gives a form's data, or nothing; an address may be anybody's.
export async function fromAddress(hash, known) {
  if (hash.length <= 1) return null;
  if (hash.length > LONGEST) return { left: `It is ${hash.length} letters long, and not read.` };
  const { form = "", ...told } = Object.fromEntries(new URLSearchParams(hash.slice(1)));
  const data = await known(form);
  if (!data) return { left: form ? `No form here is called ${quoted(form)}.` : "It names no form." };
  const values = {};
  const left = [];
  for (const [name, text] of Object.entries(told)) {
    const isField = Object.hasOwn(data.fields, name) && name !== data.posed;
    const value = NUMBER.test(text) ? Number(text) : NaN;
    if (isField && Number.isFinite(value)) values[name] = value;
    else left.push(isField ? `${quoted(text)}, no number for ${name}` : `${quoted(name)}, no field of it`);
  }
  const more = left.length > TOLD ? `, and ${left.length - TOLD} more` : "";
  return { form, values, left: left.length ? `Left out: ${left.slice(0, TOLD).join("; ")}${more}.` : "" };
}

function quoted(text) {
  return `\u201c${text.length > QUOTED ? `${text.slice(0, QUOTED)}\u2026` : text}\u201d`;
}
