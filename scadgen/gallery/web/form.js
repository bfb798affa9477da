// The fields of a form: in groups, each with its unit, its free range and, if refused, why.
import { made } from "./dom.js";
import { number, shown } from "./numbers.js";

const DIGITS = 6; // decimals of what is as needed

export class Form {
  // `set(name, value)` is told of each change, `take(changes)` of a refusal's changes.
  constructor(place, data, set, take) {
    this.data = data;
    this.set = set;
    this.take = take;
    this.rows = {};
    place.replaceChildren(...data.groups.map((group) => this.group(group)).filter(Boolean));
  }

  group(group) {
    const names = Object.keys(this.data.fields).filter(
      (name) => this.data.fields[name].group === group && name !== this.data.posed,
    );
    if (!names.length) return null;
    const title = made("summary", {}, made("h3", {}, group));
    const box = made("details", { open: group !== "Quality", "data-group": group }, title);
    box.append(...names.map((name) => this.row(name)));
    return box;
  }

  row(name) {
    const field = this.data.fields[name];
    const id = `field-${name}`;
    const label = made("label", { for: id }, field.sentence);
    const input = field.labels.length ? this.choice(field, id) : this.entry(field, id);
    const slider = field.labels.length ? null : this.slider(field);
    const hint = made("p", { class: "free", id: `free-${name}` });
    const refused = made("div", { class: "refused", id: `refused-${name}`, hidden: true });
    const unit = made("span", { class: "unit" }, field.unit === "deg" ? "\u00b0" : field.unit);
    const box = made("div", { class: "field", "data-name": name });
    box.append(label, made("span", { class: "value" }, input, unit));
    if (slider) box.append(slider);
    box.append(hint, refused);
    input.addEventListener("input", () => this.set(name, read(input)));
    slider?.addEventListener("input", () => this.set(name, Number(slider.value)));
    this.rows[name] = { box, input, slider, hint, refused };
    return box;
  }

  choice(field, id) {
    const options = field.labels.map((label, k) => made("option", { value: field.low + k }, label));
    return made("select", { id }, ...options);
  }

  entry(field, id) {
    const { step } = field;
    return made("input", { id, type: "number", inputmode: "decimal", step, autocomplete: "off" });
  }

  // Beside the entry, which says the same: only for hands.
  slider(field) {
    const { low, high, step } = field;
    const ends = { min: low, max: high, step, tabindex: -1, "aria-hidden": "true" };
    return made("input", { type: "range", ...ends });
  }

  // Shows the given values, what 0 stands for in `values`, and a refusal if there is one.
  show(given, values, refusal) {
    for (const [name, row] of Object.entries(this.rows)) {
      const value = given[name];
      if (read(row.input) !== value && !(row.input === document.activeElement && value === null)) {
        row.input.value = typeof value === "number" ? number(value) : value ?? "";
      }
      const drawn = values?.[name] ?? value;
      if (row.slider && typeof drawn === "number") row.slider.value = drawn;
      this.hint(name, given, values);
      this.refuse(name, refusal?.param === name ? refusal : null);
    }
  }

  hint(name, given, values) {
    const field = this.data.fields[name];
    const { hint, input } = this.rows[name];
    const range = this.ranges?.[name];
    const words = range?.words && !field.labels.length ? [`free: ${range.words}`] : [];
    if (field.automatic && given[name] === 0 && values) {
      words.unshift(`0, as needed: ${number(Number(values[name].toFixed(DIGITS)))}`);
    } else if (field.automatic) {
      words.unshift("0: as needed");
    }
    hint.textContent = words.join("; ");
    input.setAttribute("aria-describedby", `${hint.id} refused-${name}`);
  }

  // What each field may be while the others stay.
  allow(ranges, given, values) {
    this.ranges = ranges;
    for (const [name, { slider }] of Object.entries(this.rows)) {
      const { low, high } = ranges[name];
      if (slider && low !== null) Object.assign(slider, { min: low, max: high });
      if (slider) slider.hidden = low === null || low === high;
      const drawn = values?.[name] ?? given[name];
      if (slider && typeof drawn === "number") slider.value = drawn;
      this.hint(name, given, values);
    }
  }

  refuse(name, refusal) {
    const { box, input, refused } = this.rows[name];
    box.classList.toggle("is-refused", refusal !== null);
    input.setAttribute("aria-invalid", String(refusal !== null));
    refused.hidden = refusal === null;
    if (refusal === null) return refused.replaceChildren();
    const words = made("p", {}, `${refusal.rule}${refusal.freedom}`);
    box.closest("details").open = true;
    return refused.replaceChildren(words, this.remedy(refusal));
  }

  // The button that takes what works; `then` is told the first field that it changes.
  remedy(refusal, then = (name) => this.rows[name]?.input.focus()) {
    const changes = Object.entries(refusal.works);
    const told = changes.map(([name, value]) => `${name} = ${shown(value)}`).join(", ");
    const button = made("button", { type: "button", class: "take" }, `Take ${told}`);
    button.addEventListener("click", () => {
      this.take(refusal.works);
      then(changes[0]?.[0]);
    });
    return button;
  }
}

// The number in an entry; its text where that is none.
export function read(input) {
  const text = input.value.trim();
  return text === "" || Number.isNaN(Number(text)) ? text : Number(text);
}
