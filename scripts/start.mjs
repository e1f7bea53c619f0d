// `npm start`: install and build when needed, then run the main job on the shipped example. Never blocks.
import { join } from "node:path";
import { ensureBuilt, ensureInstalled, root, step } from "./ensure.mjs";

try {
  console.log("Installing (when needed) and building (when needed) ...");
  const install = timed("install", ensureInstalled());
  const build = timed("build", await ensureBuilt());
  const began = performance.now();
  const ferrule = (...args) => step(process.execPath, [join(root, "dist", "cli", "main.js"), ...args]);
  console.log("\nFrom the handbook: the static width of a 25 nm core in a 7 T/m gradient\n");
  ferrule(
    "formula",
    "x-space-resolution",
    "core-diameter=25 nm",
    "saturation=446 kA/m",
    "temperature=300 K",
    "gradient=7 T/m",
  );
  console.log("\nFrom a measured curve (shipped, open data): the tracer behind it\n");
  const curve = join("shipped", "curves", "clustered-iron-oxide", "FSL-DCM_data.txt");
  ferrule("fit", curve, "--out", join("out", "first-fit"), "--replace");
  console.log(`\n${install}, ${build}, run ${((performance.now() - began) / 1000).toFixed(1)} s`);
  console.log("Next: npx ferrule formula        (every formula in the handbook)");
  console.log("      npx ferrule fit --help     (your own curve)");
} catch (error) {
  console.error(error.message);
  process.exitCode = error.status ?? 3;
}

function timed(name, seconds) {
  return seconds === 0 ? `${name} up to date` : `${name} ${seconds.toFixed(1)} s`;
}
