import { existsSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { FerruleError } from "../../errors.js";
import { type Measurement, parseMeasurementDescriptor, readMeasurement } from "../../formats/index.js";
import { contentHash } from "../store/content-hash.js";
import { decodeTextInput, readInput } from "../store/read-input.js";

export interface FitInput {
  readonly name: string;
  readonly file: string;
  readonly sha256: string;
}

/** A measured file with what describes it. */
export interface MeasuredFile {
  readonly file: string;
  readonly descriptorFile?: string | undefined;
  readonly measurement: Measurement;
  readonly inputs: readonly FitInput[];
}

/** FILE.descriptor.json or descriptor.json beside a measurement, when one is there. */
export function descriptorBeside(file: string): string | undefined {
  return [`${file}.descriptor.json`, join(dirname(file), "descriptor.json")].find((candidate) => existsSync(candidate));
}

/** Reads a table with its descriptor: the one named, or one beside it. What it is follows from the descriptor. */
export function readMeasuredFile(file: string, named?: string): MeasuredFile {
  const bytes = readInput(file);
  const descriptorFile = named ?? descriptorBeside(file);
  const descriptorBytes = descriptorFile === undefined ? undefined : readInput(descriptorFile);
  const descriptor =
    descriptorFile === undefined || descriptorBytes === undefined
      ? undefined
      : parseMeasurementDescriptor(decodeTextInput(descriptorBytes, descriptorFile), { file: descriptorFile });
  const measurement = readMeasurement(bytes, descriptor, {
    file,
    ...(descriptorFile === undefined ? {} : { descriptorFile }),
  });
  const name = measurement.kind === "curve" ? "curve" : measurement.kind;
  const inputs = [
    { name, file: basename(file), sha256: contentHash(bytes) },
    ...(descriptorFile === undefined || descriptorBytes === undefined
      ? []
      : [{ name: "descriptor", file: basename(descriptorFile), sha256: contentHash(descriptorBytes) }]),
  ];
  return { file, descriptorFile, measurement, inputs };
}

/** A missing or unusable fact is the descriptor's; anything else is in the numbers, and these are the table's. */
export function placeErrors<T>(work: () => T, { file, descriptorFile = file }: MeasuredFile): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof FerruleError)) throw error;
    throw error.at({ file: error.place.path?.startsWith("facts.") ? descriptorFile : file });
  }
}
