import { findTool, optionalTools } from "../src/workbench/index.js";

/**
 * The path of a system tool that a test needs, or null when the test is to be skipped.
 * With REQUIRE_TOOLS=1 a missing tool is a failure, so that CI cannot pass by skipping.
 */
export function toolForTest(name: string): string | null {
  const tool = optionalTools.find((candidate) => candidate.name === name);
  if (tool === undefined) throw new Error(`${name} is not among the tools that doctor lists`);
  const path = findTool(tool);
  if (path === null && process.env.REQUIRE_TOOLS === "1") throw new Error(`REQUIRE_TOOLS=1, and ${name} was not found`);
  return path;
}
