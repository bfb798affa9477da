// Answers questions on hinges with the page's own modules, on the kernel, for as long as it is asked
// to. Run by answers.py:
//   node answer.mjs SOURCES PACKAGES
// Each line that it reads is JSON: families' data by name, and questions on them. So is the line
// with which it answers.
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const [sources, packages] = process.argv.slice(2).map((folder) => pathToFileURL(`${folder}/`));
const module = (name) => import(new URL(name, sources));
const { Numbers } = await module("expressions.js");
const { numbersOf } = await module("rules.js");
const { refusal, cleaned } = await module("refusal.js");
const { callText, jobText } = await module("texts.js");
const { Drawer } = await module("solids.js");
const { leastGap, FARTHEST } = await module("gap.js");
const { sections, spans } = await module("section.js");
const { share } = await module("fleet.js");
const { number, shown, rounded, halfEven } = await module("numbers.js");
const { sha256 } = await module("sha256.js");
const { default: start } = await import(new URL("manifold-3d/manifold.js", packages));

const kernel = await start();
kernel.setup();
const drawer = new Drawer(kernel);

function solid(data, given, part) {
  const drawn = drawer.part(data, given, part);
  const { min, max } = drawn.boundingBox();
  const told = { volume: drawn.volume(), bounds: [...min, ...max], triangles: drawn.numTri() };
  drawer.drop();
  return told;
}

// Trees that are no family's; what JSON has no number for is text.
function value(_, data, symbols, row) {
  return [String(Number(new Numbers(data, symbols).value(row)))];
}

function drawn(_, data, symbols, row) {
  const volume = drawer.draw(data, row, new Numbers(data, symbols), null).volume();
  drawer.drop();
  return [volume];
}

const ANSWERS = {
  value,
  drawn,
  numbers: (_, values) => values.map((value) => [number(value), shown(value), rounded(value, 6), halfEven(value)]),
  hashes: (_, texts) => texts.map(sha256),
  derived(data, given) {
    const numbers = numbersOf(data, given);
    const told = data.told.map(({ name, value }) => [`told ${name}`, value]);
    const named = [...Object.entries(data.derived), ...told];
    return Object.fromEntries(named.map(([name, row]) => [name, numbers.value(row)]));
  },
  refusal: (data, given) => refusal(data, given),
  texts(data, given) {
    const kept = cleaned(data, given);
    return [callText(data, kept), jobText(data, kept)];
  },
  // Processor time, ms, of so many drawings, each with another value; the first warms up.
  effort(data, given, field, times) {
    const { step } = data.fields[field];
    const spent = Array.from({ length: times + 1 }, (_, k) => {
      const before = process.cpuUsage();
      const values = { ...given, [field]: given[field] + (k % 2) * step };
      for (const name of data.bodies) drawer.part(data, values, name).numTri();
      const { user, system } = process.cpuUsage(before);
      drawer.drop();
      return (user + system) / 1000;
    });
    return spent.slice(1);
  },
  gap(data, given) {
    const gap = leastGap(drawer, data, given);
    drawer.drop();
    return [gap, FARTHEST];
  },
  shares: (data, given, told) => told.fleets.map((_, row) => share(data, given, told, row)),
  sections(data, given) {
    const views = sections(drawer, data, given);
    const found = Object.keys(data.fields).map((name) => [name, spans(drawer, data, given, views, name)]);
    drawer.drop();
    return { views, spans: Object.fromEntries(found) };
  },
  solids: (data, given, parts) => parts.map((part) => solid(data, given, part)),
};

for await (const line of createInterface({ input: process.stdin })) {
  const { families, questions } = JSON.parse(line);
  const said = questions.map(([kind, family, ...rest]) => ANSWERS[kind](families[family], ...rest));
  console.log(JSON.stringify(said));
}
