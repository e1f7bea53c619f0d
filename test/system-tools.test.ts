import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { inflateSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { root } from "./layers.js";
import { runFerrule } from "./run-ferrule.js";
import { toolForTest } from "./tools.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "ferrule-tools-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const renderer = toolForTest("rsvg-convert");
describe.skipIf(renderer === null)("an independent SVG renderer", () => {
  it("draws the figure of a fit: its size, and more than a blank page", () => {
    const curve = join(root, "shipped", "curves", "clustered-iron-oxide", "FSL-DCM_data.txt");
    const out = join(folder, "fit");
    expect(runFerrule(["fit", curve, "--out", out]).code).toBe(0);
    const svg = join(out, "fit.svg");
    const png = join(folder, "fit.png");
    const { status, stderr } = spawnSync(renderer!, ["--output", png, svg], { encoding: "utf8" });
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const [width, height] = /<svg [^>]*width="(\d+)" height="(\d+)"/.exec(readFileSync(svg, "utf8"))!.slice(1);
    const image = readPng(readFileSync(png));
    expect([image.width, image.height]).toEqual([Number(width), Number(height)]);
    // Text, axes, two panels of marks: some per cent of the page; a blank or solid page has none or all.
    expect(image.inkedShare).toBeGreaterThan(0.01);
    expect(image.inkedShare).toBeLessThan(0.3);
  });
});

const bash = toolForTest("bash");
describe.skipIf(bash === null)("the completion script in bash", () => {
  const complete = (...words: string[]): string[] => {
    const array = words.map((word) => `'${word}'`).join(" ");
    const script = `. ./completion.bash; COMP_WORDS=(${array}); COMP_CWORD=${words.length - 1}; _ferrule; printf '%s\\n' "\${COMPREPLY[@]}"`;
    return execFileSync(bash!, ["--norc", "-c", script], { cwd: folder, encoding: "utf8" }).trimEnd().split("\n");
  };
  beforeAll(() => {
    writeFileSync(join(folder, "completion.bash"), runFerrule(["completion", "bash"]).stdout);
    writeFileSync(join(folder, "a b.csv"), "");
  });

  it("is sound by the shell's own parser", () => {
    expect(spawnSync(bash!, ["-n", "completion.bash"], { cwd: folder, encoding: "utf8" })).toMatchObject({
      status: 0,
      stderr: "",
    });
  });

  it.each([
    [["ferrule", "fo"], ["formula"]],
    [["ferrule", "completion", "b"], ["bash"]],
    [
      ["ferrule", "formula", "lang"],
      ["langevin", "langevin-slope"],
    ],
    [["ferrule", "formula", "psf-width", "sat"], ["saturation="]],
    [["ferrule", "formula", "psf-width", "--j"], ["--json"]],
    [["ferrule", "fit", "--des"], ["--descriptor"]],
    [["ferrule", "fit", "a"], ["a b.csv"]],
    [["ferrule", "doctor", "a"], [""]],
    [["ferrule", "nosuch", "a"], [""]],
  ])("%j gives %j", (words, expected) => {
    expect(complete(...words)).toEqual(expected);
  });
});

/** Size of an 8-bit RGB(A) PNG and the share of its pixels that differ from the first one. */
function readPng(bytes: Buffer): { width: number; height: number; inkedShare: number } {
  expect(bytes.subarray(1, 4).toString("latin1")).toBe("PNG");
  const [width, height] = [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
  const channels = ({ 2: 3, 6: 4 } as Record<number, number>)[bytes[25]];
  expect({ depth: bytes[24], interlaced: bytes[28], isColour: channels !== undefined }).toEqual({
    depth: 8,
    interlaced: 0,
    isColour: true,
  });
  const rows = unfilter(inflateSync(imageData(bytes)), width * channels, channels);
  const isFirst = (at: number) => [0, 1, 2].every((c) => rows[at + c] === rows[c]);
  let inked = 0;
  for (let at = 0; at < rows.length; at += channels) if (!isFirst(at)) inked++;
  return { width, height, inkedShare: inked / (width * height) };
}

function imageData(bytes: Buffer): Buffer {
  const parts: Buffer[] = [];
  for (let at = 8; at < bytes.length; at += 12 + bytes.readUInt32BE(at))
    if (bytes.toString("latin1", at + 4, at + 8) === "IDAT")
      parts.push(bytes.subarray(at + 8, at + 8 + bytes.readUInt32BE(at)));
  return Buffer.concat(parts);
}

/** Undoes the five line filters of the PNG specification. */
function unfilter(data: Buffer, stride: number, channels: number): Uint8Array {
  const rows = new Uint8Array((data.length / (stride + 1)) * stride);
  for (let line = 0; line * (stride + 1) < data.length; line++) {
    const kind = data[line * (stride + 1)];
    for (let i = 0; i < stride; i++) {
      const at = line * stride + i;
      const left = i < channels ? 0 : rows[at - channels];
      const up = line === 0 ? 0 : rows[at - stride];
      const corner = i < channels || line === 0 ? 0 : rows[at - stride - channels];
      const guess = [0, left, up, (left + up) >> 1, paeth(left, up, corner)][kind];
      rows[at] = data[line * (stride + 1) + 1 + i] + guess;
    }
  }
  return rows;
}

function paeth(left: number, up: number, corner: number): number {
  const estimate = left + up - corner;
  const [a, b, c] = [left, up, corner].map((value) => Math.abs(estimate - value));
  return a <= b && a <= c ? left : b <= c ? up : corner;
}
