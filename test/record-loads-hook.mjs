import { appendFileSync } from "node:fs";

export async function load(url, context, nextLoad) {
  appendFileSync(process.env.FERRULE_TEST_LOAD_LOG, `${url}\n`);
  return nextLoad(url, context);
}
