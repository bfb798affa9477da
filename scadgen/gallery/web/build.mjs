// Bundles viewer.js and what it needs of three.js into one script that works offline.
// Run by ./rebuild, which says where the packages are and where the script goes.
import { readFileSync } from "node:fs";
import { build } from "esbuild";

const [packages, outfile] = process.argv.slice(2);
const licence = readFileSync(`${packages}/three/LICENSE`, "utf8").trim();
await build({
  entryPoints: [new URL("viewer.js", import.meta.url).pathname],
  bundle: true,
  minify: true,
  format: "iife",
  target: "es2020",
  nodePaths: [packages],
  legalComments: "none",
  banner: { js: `/*! Made from viewer.js by ./rebuild; holds parts of three.js:\n\n${licence}\n*/` },
  outfile,
});
