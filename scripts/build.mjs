import { ensureBuilt } from "./ensure.mjs";

const seconds = await ensureBuilt();
console.log(seconds === 0 ? "build: up to date" : `build: ${seconds.toFixed(1)} s`);
