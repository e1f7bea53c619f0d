import { spawnSync } from "node:child_process";
import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

/** A program outside this package that something here can use. Nothing needs one to run. */
export interface OptionalTool {
  readonly name: string;
  /** Names under which systems install it, the first found counts. */
  readonly commands: readonly string[];
  readonly usedFor: string;
}

export const optionalTools: readonly OptionalTool[] = [
  {
    name: "chromium",
    commands: ["chromium", "chromium-browser", "google-chrome"],
    usedFor: "tests: pages and reports in a real browser",
  },
  { name: "rsvg-convert", commands: ["rsvg-convert"], usedFor: "tests: figures read by an independent SVG renderer" },
  { name: "bash", commands: ["bash"], usedFor: "tests: the completion script" },
];

export interface ToolReport extends OptionalTool {
  readonly path: string | null;
  readonly version: string | null;
}

export interface DoctorReport {
  readonly node: string;
  readonly platform: string;
  readonly tools: readonly ToolReport[];
}

/** Which optional tools are found on PATH, and their versions. Runs only `TOOL --version`. */
export function examineMachine(): DoctorReport {
  return {
    node: process.version,
    platform: `${process.platform} ${process.arch}`,
    tools: optionalTools.map((tool) => {
      const path = findTool(tool);
      return { ...tool, path, version: path === null ? null : versionOf(path) };
    }),
  };
}

/** Full path of the first of a tool's commands that PATH holds, or null. */
export function findTool({ commands }: OptionalTool): string | null {
  const folders = (process.env.PATH ?? "").split(delimiter).filter((folder) => folder !== "");
  const endings = process.platform === "win32" ? [".exe", ".cmd", ""] : [""];
  for (const command of commands)
    for (const folder of folders)
      for (const ending of endings) {
        const candidate = join(folder, command + ending);
        if (isExecutable(candidate)) return candidate;
      }
  return null;
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

function versionOf(path: string): string | null {
  const { status, stdout } = spawnSync(path, ["--version"], { encoding: "utf8", timeout: 5000 });
  return status === 0 ? (stdout.split("\n")[0]?.trim() ?? null) : null;
}
