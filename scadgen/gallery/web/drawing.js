// The live section: a hinge's outlines in a plane, its dimensions entries that set the fields.
import { $, made, svg } from "./dom.js";
import { read } from "./form.js";
import { arranged, CHIP } from "./layout.js";
import { number } from "./numbers.js";

export class Drawing {
  // `set(name, value)` is told of each change; `remedy(refusal)` makes the button that takes one.
  constructor(set, remedy) {
    Object.assign(this, { set, remedy, plane: null });
    this.place = $("section");
    this.paper = svg("svg", { "aria-hidden": "true" });
    this.refused = made("div", { id: "section-refused", class: "refused", hidden: true });
    new ResizeObserver(() => this.draw()).observe(this.place);
  }

  // A form comes onto the page.
  enter(data) {
    Object.assign(this, { data, views: null, spans: {}, found: new Set(), chips: {} });
    this.place.replaceChildren(this.paper, this.refused);
    this.paper.replaceChildren();
  }

  // Shows outlines; entries stay where they were until their dimensions are found anew.
  show(views) {
    this.views = views;
    this.found.clear();
    this.draw();
  }

  // In each plane the dimension of a field, or null.
  dimension(name, spans) {
    this.spans[name] = spans;
    this.found.add(name);
    this.draw();
  }

  // The values as they were given, and what is refused of them.
  tell(given, values, why) {
    this.told = { given, values, why };
    for (const [name, { input }] of Object.entries(this.chips)) this.fill(name, input);
    this.refused.hidden = why === null;
    this.refused.replaceChildren();
    if (why) this.refused.append(made("p", {}, `${why.param}: ${why.rule}${why.freedom}`), this.remedy(why));
  }

  // Goes to the dimension of a field, if there is one.
  focus(name) {
    (this.chips[name]?.input ?? $("shown")).focus();
  }

  fill(name, input) {
    const { given, values, why } = this.told;
    const value = this.data.fields[name].automatic && given[name] === 0 ? values?.[name] ?? 0 : given[name];
    if (read(input) !== value && input !== document.activeElement) {
      input.value = typeof value === "number" ? number(value) : value ?? "";
    }
    input.setAttribute("aria-invalid", String(why?.param === name));
  }

  draw() {
    if (this.plane === null || !this.views) return;
    const size = { width: this.place.clientWidth, height: this.place.clientHeight };
    const bodies = this.views[this.plane];
    if (!size.width || !bodies.flat(2).length) return;
    const found = Object.entries(this.spans).map(([name, spans]) => [name, spans[this.plane]]);
    const spans = Object.fromEntries(found.filter(([, span]) => span));
    const { at, places } = arranged(bodies, spans, size);
    this.paper.setAttribute("viewBox", `0 0 ${size.width} ${size.height}`);
    this.paper.replaceChildren(
      ...bodies.map((rings, k) => outline(rings, at, this.data.bodies[k])),
      ...Object.keys(places).flatMap((name) => (this.found.has(name) ? dimensionLines(places[name]) : [])),
    );
    for (const name of Object.keys(places)) this.chips[name] ??= this.chip(name);
    for (const [name, { box, input }] of Object.entries(this.chips)) {
      const place = places[name]?.chip;
      box.hidden = !place && input !== document.activeElement;
      if (place) Object.assign(box.style, { left: `${place[0]}px`, top: `${place[1]}px` });
    }
  }

  chip(name) {
    const field = this.data.fields[name];
    const id = `dimension-${name}`;
    const words = name.replaceAll("_", " ");
    const label = `${words}: ${field.sentence}, ${field.unit}`;
    const { step } = field;
    const told = { type: "number", inputmode: "decimal", autocomplete: "off", "aria-label": label };
    const input = made("input", { id, step, ...told, "aria-describedby": this.refused.id });
    const box = made("div", { class: "chip", title: field.sentence }, made("label", { for: id }, words), input);
    Object.assign(box.style, { width: `${CHIP.width}px`, height: `${CHIP.height}px` });
    input.addEventListener("input", () => this.set(name, read(input)));
    input.addEventListener("blur", () => this.told && this.fill(name, input));
    this.place.append(box);
    this.fill(name, input);
    return { box, input };
  }
}

const points = (corners) => corners.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join(" L");

function outline(rings, at, name) {
  const d = rings.map((ring) => `M${points(ring.map(at))}Z`).join("");
  return svg("path", { d, class: name === "moving" ? "moving" : "fixed", "fill-rule": "evenodd" });
}

function dimensionLines({ line, drops, leader }) {
  const drawn = [["drop", drops], ["leader", [leader]], ["line", [line]]];
  return drawn.map(([kind, lines]) =>
    svg("path", { class: kind, d: lines.map((ends) => `M${points(ends)}`).join("") }),
  );
}
