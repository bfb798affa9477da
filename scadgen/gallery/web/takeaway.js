// What a maker takes away: files, the job for the proof, the address.
import { $ } from "./dom.js";
import { stl, threeMf } from "./files.js";
import { callText, jobText } from "./texts.js";

// Of each file its name and its content, of the design and the model that the kernel made of it.
const FILES = {
  scad: ({ data }) => [`${data.name}.scad`, data.moduleText],
  call: ({ data, given }) => [`${data.jobName}.scad`, callText(data, given)],
  stl: ({ data }, model) => [`${data.jobName}.stl`, stl(model)],
  "3mf": ({ data }, model) => [`${data.jobName}.3mf`, threeMf(data, model)],
  job: ({ data, given }) => [`${data.jobName}.toml`, jobText(data, given)],
};
const OF_MODELS = ["stl", "3mf"];

export class Takeaway {
  constructor(design, kernel, say) {
    Object.assign(this, { design, kernel, say });
    for (const button of document.querySelectorAll("[data-file]")) {
      button.addEventListener("click", () => this.save(button.dataset.file));
    }
    $("copy-job").addEventListener("click", () => this.copy($("job").textContent, "The job"));
    $("copy-address").addEventListener("click", () => this.copy(this.address, "The link"));
  }

  get address() {
    return location.href.split("#")[0] + this.design.address;
  }

  // Nothing is given of a design that is refused.
  show(refused) {
    for (const button of document.querySelectorAll("[data-file], #copy-job")) button.disabled = refused;
    const { data, given } = this.design;
    $("job").textContent = refused ? "" : jobText(data, given);
    $("job-name").textContent = `${data.jobName}.toml`;
    $("command").textContent = `scadgen check ${data.jobName}.toml`;
  }

  async save(kind) {
    const { data, given } = this.design;
    try {
      const asked = { family: data.name, given };
      const model = OF_MODELS.includes(kind) ? await this.kernel().ask("model", asked) : null;
      const [name, content] = FILES[kind]({ data, given }, model);
      const url = URL.createObjectURL(new Blob([content]));
      Object.assign(document.createElement("a"), { href: url, download: name }).click();
      setTimeout(() => URL.revokeObjectURL(url), 60000);
      this.say(`${name} is saved.`);
    } catch (error) {
      this.say(`It cannot be written: ${error.message}.`);
    }
  }

  async copy(text, what) {
    try {
      await navigator.clipboard.writeText(text);
    } catch {
      const field = document.createElement("textarea");
      field.value = text;
      document.body.append(field);
      field.select();
      document.execCommand("copy");
      field.remove();
    }
    this.say(`${what} is copied.`);
  }
}
