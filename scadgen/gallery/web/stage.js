// The stage: the solid that is set, at an angle, whole or cut; stills where there is no WebGL.
import { $, load } from "./dom.js";
import { Numbers } from "./expressions.js";
import { ends, resolved } from "./rules.js";

export class Stage {
  constructor(moved) {
    this.angle = 0;
    this.slider = $("angle");
    this.viewer = null;
    this.slider.addEventListener("input", () => {
      this.angle = Number(this.slider.value);
      this.told();
      moved();
    });
    $("as-printed").addEventListener("click", () => {
      this.angle = 0;
      $("cut").value = "";
      this.anew = true; // and looked at as at first
      this.cut();
      this.told();
      moved();
    });
    $("cut").addEventListener("change", () => this.cut(true));
    $("cut-at").addEventListener("input", () => this.cut());
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
      if (this.solids) this.viewer?.paint();
    });
  }

  async start() {
    try {
      await load("viewer.js");
      this.viewer = window.scadgenViewer($("canvas"), JSON.parse($("canvas").dataset.eye));
    } catch {
      this.lacks =
        "This browser shows no 3D here (WebGL is missing or turned off): see the stills, or show a section. All else works.";
      this.note("");
      if ($("stage").dataset.shows === "model") this.turnTo(null);
    }
  }

  // Shows the solid, or in its place the section in a plane.
  turnTo(plane) {
    const solid = this.lacks ? "stills" : "model";
    $("seen").dataset.shows = $("stage").dataset.shows = plane === null ? solid : "section";
  }

  // Says something of what is shown.
  note(words) {
    $("stage-note").textContent = [this.lacks, words].filter(Boolean).join(" ");
  }

  // A form comes onto the stage.
  enter(data) {
    this.data = data;
    this.angle = 0;
    this.anew = true;
    $("form-name").textContent = data.heading;
    const pictures = [...document.querySelectorAll(`#${data.name} a.picture img`)];
    $("stills").replaceChildren(
      ...pictures.map((picture) => picture.closest("picture").cloneNode(true)),
    );
  }

  // How far the given hinge may be drawn opened: as far as the rules let it.
  reach(given) {
    const { data } = this;
    const values = resolved(data, { ...given, [data.posed]: 0 });
    const [low, high] = ends(data, data.posed, new Numbers(data, values));
    Object.assign(this.slider, { min: low.at, max: high.at, step: data.fields[data.posed].step });
    this.slider.disabled = low.at >= high.at;
    this.angle = Math.min(Math.max(this.angle, low.at), high.at);
    this.told();
  }

  // Shows solids as they are at an angle.
  show(solids, angle) {
    this.solids = solids;
    const printed = angle === 0;
    this.viewer?.show(solids, { printed, anew: this.anew });
    this.anew = false;
    this.reachOfCut();
    this.cut();
    Object.assign($("stage").dataset, { ready: "yes", drawn: angle });
  }

  reachOfCut(anew = false) {
    const axis = $("cut").value;
    if (!axis || !this.solids) return;
    const k = "xyz".indexOf(axis);
    const [low, high] = [this.solids.low[k], this.solids.high[k]];
    const middle = low < 0 && high > 0 ? 0 : (low + high) / 2;
    const at = anew ? middle : Number($("cut-at").value);
    Object.assign($("cut-at"), { min: low.toFixed(1), max: high.toFixed(1), step: 0.1 });
    $("cut-at").value = at;
  }

  cut(anew = false) {
    const axis = $("cut").value;
    $("cut-where").hidden = !axis;
    this.reachOfCut(anew);
    const at = Number($("cut-at").value);
    if (this.solids) this.viewer?.cut(axis ? { axis, at } : null);
    $("cut-at").setAttribute("aria-valuetext", `${axis} = ${at} mm`);
    $("stage").dataset.cut = axis;
  }

  told() {
    this.slider.value = this.angle;
    const unit = this.data.fields[this.data.posed].unit;
    const words = unit === "deg" ? `${this.angle}\u00b0` : `${this.angle} ${unit}`;
    $("angle-value").textContent = words.replace("-", "\u2212");
    this.slider.setAttribute("aria-valuetext", `${this.angle} ${unit === "deg" ? "degrees" : unit}`);
  }
}
