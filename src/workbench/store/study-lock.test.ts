import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { FerruleError } from "../../errors.js";
import { withStudyLock } from "./study-lock.js";

let folder: string;
let lock: string;
const children: ChildProcess[] = [];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "ferrule-lock-"));
  lock = join(folder, ".ferrule-lock");
});
afterEach(() => {
  for (const child of children.splice(0)) child.kill("SIGKILL");
  rmSync(folder, { recursive: true, force: true });
});

/** A process of its own that takes the lock and then does as `work` says. */
function lockingProcess(work: string): ChildProcess {
  const module = new URL("study-lock.ts", import.meta.url).href;
  const script = `const { withStudyLock } = await import(${JSON.stringify(module)});
    const { appendFileSync } = await import("node:fs");
    const log = (text) => appendFileSync(${JSON.stringify(join(folder, "log.txt"))}, text + "\\n");
    const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));
    await withStudyLock(${JSON.stringify(folder)}, async () => { ${work} }).catch((error) => log(error.code));`;
  const child = spawn(process.execPath, ["--import", "tsx", "--input-type=module", "-e", script], { stdio: "ignore" });
  children.push(child);
  return child;
}

const exitOf = (child: ChildProcess) =>
  new Promise((resolve) => child.once("exit", (code, signal) => resolve(signal ?? code)));

async function until(condition: () => boolean): Promise<void> {
  for (let i = 0; i < 1000 && !condition(); i++) await wait(10);
  expect(condition()).toBe(true);
}

async function refusal(work: Promise<unknown>): Promise<FerruleError> {
  const outcome = await work.then(
    () => undefined,
    (error) => error,
  );
  expect(outcome).toBeInstanceOf(FerruleError);
  return outcome as FerruleError;
}

describe("withStudyLock", () => {
  it("holds the lock during the work, gives its result, and leaves no file", async () => {
    const result = await withStudyLock(folder, async () => {
      expect(JSON.parse(readFileSync(lock, "utf8"))).toMatchObject({ pid: process.pid, host: hostname() });
      return 42;
    });
    expect(result).toBe(42);
    expect(readdirSync(folder)).toEqual([]);
  });

  it("releases on an error and on an abort", async () => {
    await expect(withStudyLock(folder, () => Promise.reject(new Error("no")))).rejects.toThrow("no");
    expect(readdirSync(folder)).toEqual([]);
    const stop = new AbortController();
    const aborted = withStudyLock(folder, () => wait(10_000, undefined, { signal: stop.signal }));
    await until(() => existsSync(lock));
    stop.abort();
    await expect(aborted).rejects.toThrow(/abort/i);
    expect(readdirSync(folder)).toEqual([]);
  });

  it("refuses a second hold in the same process", async () => {
    await withStudyLock(folder, async () => {
      expect((await refusal(withStudyLock(folder, () => 1))).code).toBe("Conflict");
    });
  });

  it("says which live process holds it, since when, and what to do; and never starts the work", async () => {
    const child = lockingProcess("await pause(60000)");
    await until(() => existsSync(lock));
    let ran = false;
    const error = await refusal(
      withStudyLock(folder, () => {
        ran = true;
      }),
    );
    expect(ran).toBe(false);
    expect(error).toMatchObject({ code: "Conflict", place: { file: lock } });
    expect(error.found).toContain(`process ${child.pid} on ${hostname()}, since 20`);
    expect(error.accepted).toMatch(/wait.*stop.*delete/);
    expect(existsSync(lock)).toBe(true);
  });

  it("takes over the lock of a process that was killed, and says so", async () => {
    const child = lockingProcess("await pause(60000)");
    await until(() => existsSync(lock));
    const ended = exitOf(child);
    child.kill("SIGKILL");
    await ended;
    expect(existsSync(lock)).toBe(true);
    const notes: string[] = [];
    expect(await withStudyLock(folder, () => "done", { note: (message) => notes.push(message) })).toBe("done");
    expect(notes).toEqual([expect.stringContaining(`took over the lock of process ${child.pid}`)]);
    expect(readdirSync(folder)).toEqual([]);
  });

  it("sweeps what a process killed while it made a lock has left, and nothing of a live one", async () => {
    const left = (pid: number) => JSON.stringify({ host: hostname(), pid, since: "2026-01-01", token: "x" });
    writeFileSync(`${lock}.0123456789abcdef`, left(await deadPid()));
    writeFileSync(`${lock}-takeover.0123456789abcdef`, left(await deadPid()));
    writeFileSync(`${lock}.fedcba9876543210`, left(process.ppid));
    await withStudyLock(folder, () => {});
    expect(readdirSync(folder)).toEqual([".ferrule-lock.fedcba9876543210"]);
  });

  it("is released by a process that exits in the middle of its work", async () => {
    expect(await exitOf(lockingProcess("process.exit(5)"))).toBe(5);
    expect(readdirSync(folder)).toEqual([]);
  });

  it("respects a lock of another machine and one that cannot be read, even when the number is of no process", async () => {
    writeFileSync(lock, JSON.stringify({ host: "elsewhere", pid: 4194303, since: "2026-01-01", token: "x" }));
    expect((await refusal(withStudyLock(folder, () => 1))).found).toContain("process 4194303 on elsewhere");
    for (const text of ["", "{", "[]", '{"host":"a"}']) {
      writeFileSync(lock, text);
      expect((await refusal(withStudyLock(folder, () => 1))).found).toMatch(/does not say whose/);
      expect(readFileSync(lock, "utf8")).toBe(text);
    }
  });

  it("leaves a lock alone that is not its own any more", async () => {
    const foreign = JSON.stringify({ host: "elsewhere", pid: 1, since: "2026-01-01", token: "x" });
    await withStudyLock(folder, () => writeFileSync(lock, foreign));
    expect(readFileSync(lock, "utf8")).toBe(foreign);
  });

  it("of two that find one dead lock at once, one works and the other is refused", async () => {
    for (let round = 0; round < 20; round++) {
      writeFileSync(lock, JSON.stringify({ host: hostname(), pid: await deadPid(), since: "2026-01-01", token: "x" }));
      let inside = 0;
      const hold = () =>
        withStudyLock(folder, async () => {
          expect(++inside).toBe(1);
          await wait(5);
          inside--;
        });
      const outcomes = await Promise.allSettled([hold(), hold(), hold()]);
      expect(outcomes.filter(({ status }) => status === "fulfilled").length).toBeGreaterThanOrEqual(1);
      for (const outcome of outcomes)
        if (outcome.status === "rejected") expect(outcome.reason).toMatchObject({ code: "Conflict" });
      expect(readdirSync(folder)).toEqual([]);
    }
  });

  it("several processes at once: never two inside", async () => {
    writeFileSync(lock, JSON.stringify({ host: hostname(), pid: await deadPid(), since: "2026-01-01", token: "x" }));
    const work = 'log("in"); await pause(300); log("out");';
    await Promise.all([1, 2, 3].map(() => exitOf(lockingProcess(work))));
    const lines = readFileSync(join(folder, "log.txt"), "utf8").trim().split("\n");
    const steps = lines.filter((line) => line !== "Conflict");
    expect(steps.length).toBeGreaterThanOrEqual(2);
    steps.forEach((step, i) => {
      expect(step).toBe(i % 2 === 0 ? "in" : "out");
    });
    expect(steps.length / 2 + (lines.length - steps.length)).toBe(3);
    expect(existsSync(lock)).toBe(false);
  });
});

let dead: number | undefined;

/** The number of a process that has ended. */
async function deadPid(): Promise<number> {
  if (dead === undefined) {
    const child = spawn(process.execPath, ["-e", ""]);
    await exitOf(child);
    dead = child.pid!;
  }
  return dead;
}
