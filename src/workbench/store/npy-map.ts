import { writeNpy } from "../../formats/index.js";
import type { GridMap } from "../../imaging/index.js";
import type { ArtifactFiles } from "./artifact-store.js";
import type { FileSource } from "./file-source.js";
import { readFiniteArray } from "./finite-array.js";
import { type MapSidecar, mapKinds, mapSidecarSchema, mapUrn, uncertaintyMeaning } from "./map-sidecar.js";
import { parseSidecar } from "./parse-sidecar.js";

/**
 * A map as files: NAME.npy, for an iron map NAME-sd.npy, and NAME.json that says what the numbers are.
 * Equal maps give equal bytes. Nothing is lost: values stay float64.
 *
 * @throws FerruleError ShapeMismatch when the values do not fill the grid
 */
export function encodeMap(map: GridMap, name: string): ArtifactFiles {
  const { shape } = map.grid;
  const files: Record<string, Uint8Array | string> = {
    [`${name}.json`]: `${JSON.stringify(sidecarOf(map, name), null, 2)}\n`,
    [`${name}.npy`]: writeNpy({ type: "<f8", shape, data: map.values }),
  };
  if (map.kind === "iron") files[`${name}-sd.npy`] = writeNpy({ type: "<f8", shape, data: map.standardUncertainty });
  return files;
}

function sidecarOf({ kind, grid }: GridMap, name: string): MapSidecar {
  const { shape, spacing_m, origin_m } = grid;
  const common = {
    schema: mapUrn,
    grid: { shape, spacing_m, origin_m },
    values: { file: `${name}.npy`, meaning: mapKinds[kind].meaning },
  } as const;
  if (kind === "signal") return { ...common, kind, unit: mapKinds.signal.unit };
  const standardUncertainty = { file: `${name}-sd.npy`, meaning: uncertaintyMeaning };
  return { ...common, kind, unit: mapKinds.iron.unit, element: "Fe", standardUncertainty };
}

/**
 * The map that `encodeMap` wrote under this name, from an artifact or a folder.
 * File names follow from `name`; those in the sidecar are for its human readers.
 *
 * @throws FerruleError with the file: InvalidFile, InvalidDocument, ShapeMismatch, InvalidValue
 */
export function decodeMap(source: FileSource, name: string): GridMap {
  const sidecar = `${name}.json`;
  const { kind, grid } = parseSidecar(mapSidecarSchema, source.read(sidecar), source.path(sidecar));
  const values = readFiniteArray(source, `${name}.npy`, { shape: grid.shape, sidecar });
  if (kind === "signal") return { kind, unit: mapKinds.signal.unit, grid, values };
  const standardUncertainty = readFiniteArray(source, `${name}-sd.npy`, {
    shape: grid.shape,
    sidecar,
    isNonNegative: true,
  });
  return { kind, unit: mapKinds.iron.unit, grid, values, standardUncertainty };
}
