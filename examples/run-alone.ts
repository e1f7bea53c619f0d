import { pathToFileURL } from "node:url";

/** Where a story prints: the console when it is run by hand, a list in its test. */
export type Print = (line: string) => void;

/** Runs a story when its file is the one that was started: `npx tsx examples/langevin-width.ts`. */
export function runAlone(url: string, story: (print: Print) => void): void {
  if (process.argv[1] !== undefined && url === pathToFileURL(process.argv[1]).href) story((line) => console.log(line));
}
