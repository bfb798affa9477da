// What a maker has set: a form and its values, the way back, and the address that tells it all.
import { initial } from "./fields.js";
import { number } from "./numbers.js";

const PAUSE = 900; // ms after which the next change of a field is a step of its own

export class Design {
  constructor() {
    this.forms = {}; // by name the values of each form, kept when another is looked at
    this.past = [];
    this.last = { tag: null, at: 0 };
  }

  get given() {
    return this.forms[this.data.name];
  }

  // Shows a form: with its values as they were left, or with those of an address.
  choose(data, values = null) {
    this.data = data;
    this.last.tag = null;
    if (values) this.forms[data.name] = { ...initial(data), ...known(data, values) };
    this.forms[data.name] ??= initial(data);
  }

  // Changes values; one field's changes without a pause are one step back.
  set(changes, tag = null) {
    const now = Date.now();
    const goesOn = tag !== null && tag === this.last.tag && now - this.last.at < PAUSE;
    if (!goesOn) this.past.push({ data: this.data, given: this.given });
    this.last = { tag, at: now };
    this.forms[this.data.name] = { ...this.given, ...changes };
  }

  undo() {
    const { data, given } = this.past.pop();
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
    const told = set.map(([name, value]) => `&${name}=${number(value)}`).join("");
    return `#form=${this.data.name}${told}`;
  }
}

// The form and the values that an address tells; null where it tells none.
export function fromAddress(hash) {
  const said = Object.fromEntries(new URLSearchParams(hash.slice(1)));
  const { form, ...values } = said;
  return form ? { form, values } : null;
}

function known(data, values) {
  const numbers = Object.entries(values).map(([name, text]) => [name, Number(text)]);
  return Object.fromEntries(
    numbers.filter(([name, value]) => name in data.fields && name !== data.posed && Number.isFinite(value)),
  );
}
