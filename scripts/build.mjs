import { ensureBuilt } from "./ensure.mjs";

try {
  const seconds = await ensureBuilt();
  console.log(seconds === 0 ? "build: up to date" : `build: ${seconds.toFixed(1)} s`);
} catch (error) {
  console.error(error.message);
  process.exitCode = error.status ?? 3;
}
