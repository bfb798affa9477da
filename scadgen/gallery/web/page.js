// The page: choose a form, set its values, see it, take its files. Source of page.bundle.js.
// Plain files, nothing is fetched: scripts are loaded by their tags, so that it works from a disk.
import { filterCards } from "./cards.js";
import { Design, fromAddress } from "./design.js";
import { $, load } from "./dom.js";
import { figureRow, fleetRows } from "./facts.js";
import { Drawing } from "./drawing.js";
import { Form } from "./form.js";
import { FARTHEST } from "./gap.js";
import { shown } from "./numbers.js";
import { cleaned, refusal } from "./refusal.js";
import { numbersOf, resolved } from "./rules.js";
import { Stage } from "./stage.js";
import { Takeaway } from "./takeaway.js";
import { Kernel } from "./worker.js";

const CALM = 250; // ms without a change after which ranges are tried and refusals are told
const SHOWN = 6000; // ms for which what was done is told
const DECIMALS = 1; // of sizes

const families = {};
let fleets = null;
window.scadgenFamily = (data) => (families[data.name] = data);
window.scadgenFleets = (data) => (fleets = data);

const design = new Design();
const stage = new Stage(() => draw());
const takeaway = new Takeaway(design, () => kernel, say);
const setOne = (name, value) => change({ [name]: value }, name);
const drawing = new Drawing(setOne, (refused) =>
  form.remedy(refused, (name) => drawing.focus(name)),
);
const forms = [...document.querySelectorAll("#forms a")];
let kernel = null;
let form = null;
let calm = 0;
let silence = 0;
let why = null; // what is refused

// Told to all, for a while; `hear` tells those who listen, what others read beside the field.
function say(words) {
  $("said").textContent = words;
  clearTimeout(silence);
  silence = setTimeout(say, SHOWN, "");
}

function hear(words) {
  $("heard").textContent = words;
}

async function startKernel() {
  try {
    await Promise.all([load("kernel.js"), load("fleets.js")]);
    kernel = new Kernel(window.scadgenKernel.toString());
    const known = Object.values(families).map((data) => kernel.ask("family", { data }));
    await Promise.all([...known, kernel.ask("fleets", fleets)]);
    show();
  } catch (error) {
    noKernel(error);
  }
}

function noKernel(error) {
  stage.note(`No solid can be drawn here: ${error.message}. Values and texts work.`);
}

// The data of a form; nothing where there is none of that name.
async function known(name) {
  if (!forms.some((link) => link.dataset.name === name)) return null;
  await load(`forms/${name}.js`);
  return families[name];
}

// Brings a form onto the page, with values if an address tells them.
async function choose(name, values = null) {
  try {
    const data = await known(name);
    kernel?.ask("family", { data }).catch(noKernel);
    design.choose(data, values);
    enter();
  } catch (error) {
    say(`This form cannot be shown: ${error.message}.`);
  }
}

// Brings a form's picture into its strip, which alone scrolls.
function reveal(link) {
  const strip = link.closest("ul");
  const [from, to] = [link.offsetLeft - strip.offsetLeft, strip.clientWidth - link.offsetWidth];
  if (from < strip.scrollLeft || from > strip.scrollLeft + to) strip.scrollLeft = from - to / 2;
}

// Shows the design's form, which may be another than before.
function enter() {
  const { data } = design;
  form = new Form($("fields"), data, setOne, (changes) => change(changes));
  for (const link of forms) {
    const chosen = link.dataset.name === data.name;
    if (chosen) link.setAttribute("aria-current", "true");
    else link.removeAttribute("aria-current");
    if (chosen) reveal(link);
  }
  for (const about of document.querySelectorAll("[data-about]")) {
    about.hidden = about.dataset.about !== data.name;
  }
  delete $("stage").dataset.ready;
  for (const id of ["size", "volume", "gap"]) $(id).textContent = "";
  stage.enter(data);
  drawing.enter(data);
  show();
}

function change(changes, tag = null) {
  design.set(changes, tag);
  show();
}

// What is drawn: the design or, where that is refused, what works instead.
function sound() {
  const { data, given } = design;
  return cleaned(data, why ? { ...given, ...why.works } : given);
}

// All that follows from the values: refusals, texts, solids, the address.
function show() {
  const { data, given } = design;
  why = refusal(data, given);
  const values = why ? null : resolved(data, cleaned(data, given));
  form.show(given, values, why);
  drawing.tell(given, resolved(data, sound()), why);
  takeaway.show(why !== null);
  tell();
  $("undo").disabled = !design.past.length;
  $("redo").disabled = !design.undone.length;
  $("usual").disabled = design.isUsual;
  stage.reach(sound());
  tellPart();
  draw();
  cut();
  clearTimeout(calm);
  calm = setTimeout(settle, CALM, values);
}

// What has been shown of the design, and what not.
function tell() {
  const { data } = design;
  const about = document.querySelector(`[data-about="${data.name}"]`);
  const usual = design.isUsual;
  const state = why ? "refused" : usual ? about?.dataset.proof ?? "not-proven" : "held";
  $("verdict").dataset.state = state;
  const rules = `All ${data.rules.length} rules hold`;
  const usually = {
    proven: `${rules}. These are the usual values, and they are proven.`,
    "not-proven": `${rules}. These are the usual values; their proof fails: see below.`,
  };
  const held = `${rules}. Not proven: run scadgen check, as told below.`;
  const refused = why && `Refused: ${why.param}. No file is written of it.`;
  $("verdict").textContent = refused ?? usually[state] ?? held;
  const works = why && Object.entries(why.works).map(([name, value]) => `${name} = ${shown(value)}`);
  if (kernel) stage.note(why ? `Shown with what works: ${works.join(", ")}.` : "");
}

// For the browser's own trace of how long the page takes.
function mark(name) {
  performance.clearMarks(name);
  performance.mark(name);
}

async function draw() {
  const { data } = design;
  if (!kernel) return;
  const { angle } = stage; // which may be another once the solids are there
  const posed = { ...sound(), [data.posed]: angle };
  try {
    const solids = await kernel.askNewest("solids", { family: data.name, given: posed });
    if (!solids || design.data !== data) return;
    mark("solids");
    stage.show(solids, angle);
    requestAnimationFrame(() => mark("shown")); // after the viewer has drawn
    if (angle === 0) measure(solids);
  } catch (error) {
    noKernel(error);
  }
}

// The section, where it is looked at.
async function cut() {
  const { data } = design;
  if (!kernel || drawing.plane === null) return;
  const asked = { family: data.name, given: sound() };
  const views = await kernel.askNewest("sections", asked).catch(noKernel);
  if (views && design.data === data) drawing.show(views);
}

// Its dimensions one after the other, so that the kernel is free in between.
async function findDimensions() {
  const { data, given } = design;
  if (drawing.plane === null) return;
  for (const name of Object.keys(data.fields).filter((name) => data.fields[name].drawn)) {
    const asked = { family: data.name, given: sound(), name };
    const spans = await kernel.askNewest("spans", asked).catch(() => null);
    if (!spans || design.data !== data || design.given !== given) return;
    drawing.dimension(name, spans);
  }
}

function measure({ low, high, volume }) {
  const sides = high.map((end, k) => (end - low[k]).toFixed(DECIMALS));
  $("size").textContent = `${sides.join(" \u00d7 ")} mm`;
  $("volume").textContent = `${(volume / 1000).toFixed(2)} cm\u00b3`;
}

// What must be known to build around it.
function tellPart() {
  const numbers = numbersOf(design.data, sound());
  $("told").replaceChildren(...design.data.told.map((one) => figureRow(one, numbers)));
  $("plays").replaceChildren(...design.data.plays.map((one) => figureRow(one, numbers)));
  $("loose").hidden = !design.data.plays.length;
}

// What share of printers that nobody here controls makes it work: one fleet after the other.
async function askShares() {
  const { data, given } = design;
  $("fleets-row").hidden = !data.margins.length;
  if (!data.margins.length) return;
  const found = [];
  for (const row of fleets.fleets.keys()) {
    const asked = { family: data.name, given: sound(), row };
    const share = await kernel.askNewest("share", asked).catch(() => null);
    if (!share || design.data !== data || design.given !== given) return;
    found.push(share);
    $("fleets").replaceChildren(...fleetRows(found));
  }
}

// The gap is measured on the solids, which takes a moment.
async function measureGap() {
  const { data } = design;
  $("gap-row").hidden = data.bodies.length < 2;
  if ($("gap-row").hidden) return;
  const asked = { family: data.name, given: sound() };
  const gap = await kernel.askNewest("gap", asked).catch(() => null);
  if (gap === null || design.data !== data) return;
  $("gap").textContent = gap < FARTHEST ? `${gap.toFixed(2)} mm` : `over ${FARTHEST} mm`;
}

// After a change has come to rest: the address tells it, a refusal is read out, ranges are tried.
async function settle(values) {
  const { data, given } = design;
  history.replaceState(null, "", design.address);
  hear(why ? why.text : "");
  if (!kernel) return;
  const ranges = await kernel.askNewest("ranges", { family: data.name, given }).catch(() => null);
  if (ranges && design.data === data && design.given === given) form.allow(ranges, given, values);
  measureGap();
  askShares();
  findDimensions();
}

// Shows what the address tells. What of it cannot be read is told, and nothing else comes of it.
async function readAddress() {
  if (design.data && location.hash === design.address) return;
  const told = await fromAddress(location.hash, known).catch(() => null);
  if (told?.form) await choose(told.form, told.values);
  else if (!design.data) await choose(forms[0].dataset.name);
  else show();
  if (told?.left) say(`Not all of the address can be read. ${told.left}`);
}

function step(way, words) {
  const { data } = design;
  const button = document.activeElement;
  design[way]();
  if (design.data === data) show();
  else enter();
  if (button.disabled) $(way === "undo" ? "redo" : "undo").focus(); // or the focus is lost
  say(words);
}

async function start() {
  document.documentElement.classList.add("scripted");
  filterCards();
  for (const link of document.querySelectorAll("a[data-name]")) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      choose(link.dataset.name);
      $("workshop").scrollIntoView();
    });
  }
  addEventListener("hashchange", readAddress);
  $("undo").addEventListener("click", () => step("undo", "The last change is undone."));
  $("redo").addEventListener("click", () => step("redo", "The change is made again."));
  $("shown").addEventListener("change", () => {
    const plane = $("shown").value;
    drawing.plane = plane === "" ? null : Number(plane);
    stage.turnTo(drawing.plane);
    drawing.draw();
    cut();
    if (kernel) findDimensions();
  });
  $("usual").addEventListener("click", () => {
    const usual = Object.fromEntries(
      Object.entries(design.data.fields).map(([name, field]) => [name, field.initial]),
    );
    change(usual);
    say("All values are as usual.");
  });
  if (!forms.length) return;
  await readAddress();
  await Promise.all([stage.start(), startKernel()]);
}

start();
