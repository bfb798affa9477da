// Bundles the page's scripts so that they work offline: page, viewer, and the kernel for its worker.
// Run by ./rebuild, which says where the packages are and where the bundles go.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { build } from "esbuild";

const [packages, folder] = process.argv.slice(2);
const { gzipSync } = createRequire(`${packages}/`)("fflate"); // its bytes are the same on any machine

const HELD = { page: ["fflate"], viewer: ["three"], kernel: ["manifold-3d", "fflate"] };

function banner(name) {
  const told = HELD[name].map((held) => {
    const licence = readFileSync(`${packages}/${held}/LICENSE`, "utf8").trim();
    return `Holds parts of ${held}:\n\n${licence}\n`;
  });
  return `/*! Made from ${name}.js by ./rebuild.\n\n${told.join("\n")}*/\n`;
}

async function bundled(name, more = {}) {
  const { outputFiles } = await build({
    entryPoints: [new URL(`${name}.js`, import.meta.url).pathname],
    bundle: true,
    minify: true,
    format: "iife",
    target: "es2022",
    nodePaths: [packages],
    legalComments: "none",
    charset: "utf8",
    write: false,
    ...more,
  });
  return outputFiles[0].text;
}

const wasm = gzipSync(readFileSync(`${packages}/manifold-3d/manifold.wasm`), { level: 9, mtime: 0 });
const define = {
  KERNEL: JSON.stringify(Buffer.from(wasm).toString("base64")),
  "import.meta.url": '"kernel.js"',
};
const texts = {
  page: await bundled("page"),
  viewer: await bundled("viewer"),
  // The worker is made of the text of this function.
  kernel: `window.scadgenKernel = function () {\n${await bundled("kernel", { define, external: ["node:*"] })}};\n`,
};
for (const [name, text] of Object.entries(texts)) {
  writeFileSync(`${folder}/${name}.bundle.js`, banner(name) + text);
}
