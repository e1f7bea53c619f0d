// `npm start`: install and build when needed, then run the main job on the shipped study. Never blocks.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { ensureBuilt, ensureInstalled, root, step } from "./ensure.mjs";

const study = join("out", "four-spheres");

try {
  const install = await timed("install", ensureInstalled);
  const build = await timed("build", ensureBuilt);
  const began = performance.now();
  const ferrule = (...args) => step(process.execPath, [join(root, "dist", "cli", "main.js"), ...args]);
  if (!existsSync(join(root, study, "study.json"))) ferrule("new", study, "--from", "four-spheres");
  console.log(`Running the shipped study in ${study} (half a minute when nothing is up to date) ...\n`);
  ferrule("run", study);
  console.log(`\n${install}, ${build}, run ${((performance.now() - began) / 1000).toFixed(1)} s`);
  console.log("Next: npx ferrule new my-study --from four-spheres   (a copy to change; then ferrule run my-study)");
  console.log("      npx ferrule fit FILE --out FOLDER              (your own magnetisation curve)");
  console.log("      npx ferrule formula                            (the handbook)");
} catch (error) {
  console.error(error.message);
  process.exitCode = error.status ?? 3;
}

async function timed(name, work) {
  const seconds = await work();
  return seconds === 0 ? `${name} up to date` : `${name} ${seconds.toFixed(1)} s`;
}
