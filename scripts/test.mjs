// `npm test` on a fresh clone: install and build when needed, then everything that `npm run check` does.
import { ensureBuilt, ensureInstalled } from "./ensure.mjs";

try {
  ensureInstalled();
  await ensureBuilt();
  const { check } = await import("./check.mjs");
  process.exitCode = check();
} catch (error) {
  console.error(error.message);
  process.exitCode = error.status ?? 3;
}
