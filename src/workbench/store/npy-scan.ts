import { z } from "zod";
import { writeNpy } from "../../formats/index.js";
import type { ArtifactFiles } from "./artifact-store.js";
import type { FileSource } from "./file-source.js";
import { readFiniteArray } from "./finite-array.js";
import { parseSidecar } from "./parse-sidecar.js";

export const scanUrn = "urn:ferrule:scan:1";

/** Receive voltage of a scan and what a reader must know of it. */
export interface StoredScan {
  /** [frames, samples], the frames in the order of acquisition, V */
  readonly voltage_V: Float64Array;
  readonly frames: number;
  /** Samples of one frame: whole drive periods. */
  readonly samples: number;
  readonly samplesPerPeriod: number;
  /** Of the drive. */
  readonly frequency_Hz: number;
  /** SHA-256 of the protocol document that the frames follow. */
  readonly protocolDigest: string;
  /** Of the noise; null for a recorded scan. */
  readonly seed: number | null;
  readonly origin: "simulated" | "recorded";
  /** Whether anything in it is made up for demonstration. */
  readonly invented: boolean;
}

const scanSidecarSchema = z
  .strictObject({
    schema: z.literal(scanUrn),
    file: z.string(),
    unit: z.literal("V"),
    meaning: z.string(),
    frames: z.int().min(1),
    samples: z.int().min(1),
    samplesPerPeriod: z.int().min(2),
    frequency_Hz: z.number().positive(),
    protocolDigest: z.string().regex(/^[0-9a-f]{64}$/, "a SHA-256, 64 lower-case hexadecimal digits"),
    seed: z.int().min(0).nullable(),
    origin: z.enum(["simulated", "recorded"]),
    invented: z.boolean(),
  })
  .refine(({ samples, samplesPerPeriod }) => samples % samplesPerPeriod === 0, {
    path: ["samples"],
    message: "whole drive periods: a multiple of samplesPerPeriod",
  })
  .refine(({ seed, origin }) => (seed === null) === (origin === "recorded"), {
    path: ["seed"],
    message: "a whole number for a simulated scan, null for a recorded one",
  });

type ScanSidecar = z.output<typeof scanSidecarSchema>;

/**
 * A scan as files: NAME.npy [frames, samples] in V and NAME.json that says what the numbers are.
 *
 * @throws FerruleError ShapeMismatch when the voltages do not fill the frames
 */
export function encodeScan({ voltage_V, ...facts }: StoredScan, name = "scan"): ArtifactFiles {
  const { frames, samples, samplesPerPeriod, frequency_Hz, protocolDigest, seed, origin, invented } = facts;
  const sidecar: ScanSidecar = {
    schema: scanUrn,
    file: `${name}.npy`,
    unit: "V",
    meaning: "receive voltage after the receive filter, [frame in the order of acquisition, sample]",
    frames,
    samples,
    samplesPerPeriod,
    frequency_Hz,
    protocolDigest,
    seed,
    origin,
    invented,
  };
  return {
    [`${name}.json`]: `${JSON.stringify(sidecar, null, 2)}\n`,
    [`${name}.npy`]: writeNpy({ type: "<f8", shape: [frames, samples], data: voltage_V }),
  };
}

/**
 * The scan that `encodeScan` wrote under this name, from an artifact or a folder.
 *
 * @throws FerruleError with the file: InvalidFile, InvalidDocument, ShapeMismatch, InvalidValue
 */
export function decodeScan(source: FileSource, name = "scan"): StoredScan {
  const sidecar = `${name}.json`;
  const parsed = parseSidecar(scanSidecarSchema, source.read(sidecar), source.path(sidecar));
  const { frames, samples, samplesPerPeriod, frequency_Hz, protocolDigest, seed, origin, invented } = parsed;
  const voltage_V = readFiniteArray(source, `${name}.npy`, { shape: [frames, samples], sidecar });
  return { voltage_V, frames, samples, samplesPerPeriod, frequency_Hz, protocolDigest, seed, origin, invented };
}
