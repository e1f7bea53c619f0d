import { existsSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { parsePositioned } from "../../documents/index.js";
import { type NpyArray, readNpy } from "../../formats/index.js";
import { mapTotal } from "../../imaging/index.js";
import { folderSource } from "../store/file-source.js";
import { mapUrn } from "../store/map-sidecar.js";
import { decodeMap } from "../store/npy-map.js";
import { decodeScan, scanUrn } from "../store/npy-scan.js";
import { readTextInput } from "../store/read-input.js";
import { schemaOf } from "./inspect-document.js";
import type { Inspection } from "./inspection.js";

type Found = Omit<Inspection, "file" | "sound">;

/** An NPY file; with its sidecar, when one of ours is beside it, as the map or scan that it belongs to. */
export function inspectArray(file: string, bytes: Uint8Array): Found {
  const sidecar = sidecarBeside(file);
  if (sidecar?.urn === mapUrn) return inspectMap(sidecar.path);
  if (sidecar?.urn === scanUrn) return inspectScan(sidecar.path);
  // A sidecar that cannot be read must not pass for one that is not there.
  if (sidecar?.urn === "") parsePositioned(readTextInput(sidecar.path), { file: sidecar.path });
  const array = readNpy(bytes, { file });
  const sidecarNote = "none that says unit and axes";
  return {
    format: "NPY array",
    version: `${bytes[6]}.${bytes[7]}`,
    summary: { type: array.type, shape: array.shape, ...statistics(array.data), sidecar: sidecarNote },
  };
}

function sidecarBeside(file: string): { readonly path: string; readonly urn: string | undefined } | undefined {
  const stem = basename(file).replace(/\.npy$/, "");
  const candidates = [stem, stem.replace(/-sd$/, "")].map((name) => join(dirname(file), `${name}.json`));
  const path = candidates.find((candidate) => existsSync(candidate));
  return path === undefined ? undefined : { path, urn: schemaOf(readFileSync(path)) };
}

const sourceOf = (sidecar: string) => folderSource(dirname(sidecar));
const nameOf = (sidecar: string) => basename(sidecar).replace(/\.json$/, "");

export function inspectMap(sidecar: string): Found {
  const map = decodeMap(sourceOf(sidecar), nameOf(sidecar));
  const { kind, unit, grid, values } = map;
  const iron =
    map.kind === "iron"
      ? { element: "Fe", sumOfVoxels_kg: mapTotal(map), standardUncertainty: statistics(map.standardUncertainty) }
      : {};
  return { format: `${kind} map`, version: "1", summary: { unit, grid, ...statistics(values), ...iron } };
}

export function inspectScan(sidecar: string): Found {
  const { voltage_V, ...facts } = decodeScan(sourceOf(sidecar), nameOf(sidecar));
  return { format: "scan", version: "1", summary: { unit: "V", ...facts, ...statistics(voltage_V) } };
}

/** Of the finite elements; how many are not is counted. No element, no statistics. */
function statistics(data: NpyArray["data"]): Readonly<Record<string, number>> {
  let minimum = Number.POSITIVE_INFINITY;
  let maximum = Number.NEGATIVE_INFINITY;
  let sum = 0;
  let finite = 0;
  for (const element of data) {
    const value = Number(element);
    if (!Number.isFinite(value)) continue;
    minimum = Math.min(minimum, value);
    maximum = Math.max(maximum, value);
    sum += value;
    finite++;
  }
  const notFinite = data.length - finite;
  return {
    ...(finite === 0 ? {} : { minimum, maximum, mean: sum / finite }),
    ...(notFinite === 0 ? {} : { notFinite }),
  };
}
