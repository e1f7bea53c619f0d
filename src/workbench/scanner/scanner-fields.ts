import {
  coilSources,
  type DriveAxisModel,
  fieldPerAmpere_T_per_A,
  fieldSourcesOf,
  type ScannerModel,
} from "../../documents/index.js";
import { type FieldFunction, type FieldSource, fieldOfSources } from "../../physics/index.js";

/** The selection field of a scanner: of its coils and magnets, or linear about the origin. */
export function selectionField({ selectionField: { sources, gradient_T_per_m } }: ScannerModel): FieldFunction {
  if (sources !== undefined) return fieldOfSources(fieldSourcesOf(sources));
  const [[xx, xy, xz], [yx, yy, yz], [zx, zy, zz]] = gradient_T_per_m;
  return (points_m, out = new Float64Array(points_m.length)) => {
    for (let i = 0; i < points_m.length; i += 3) {
      const [x, y, z] = [points_m[i], points_m[i + 1], points_m[i + 2]];
      out[i] = xx * x + xy * y + xz * z;
      out[i + 1] = yx * x + yy * y + yz * z;
      out[i + 2] = zx * x + zy * y + zz * z;
    }
    return out;
  };
}

/** All that makes the selection field, coils at their currents; none for an ideal field. */
export function selectionSources({ selectionField: { sources } }: ScannerModel): FieldSource[] {
  return sources === undefined ? [] : fieldSourcesOf(sources);
}

/** A coil of the scanner at one ampere. */
export function coilField(coil: Parameters<typeof coilSources>[0]): FieldFunction {
  return fieldOfSources(coilSources(coil, 1));
}

/** A drive coil at the current of its largest amplitude; nothing without a coil. */
export function coilSourcesAt({ axis, coil, maximumAmplitude_T }: DriveAxisModel): FieldSource[] {
  return coil === undefined ? [] : coilSources(coil, maximumAmplitude_T / Math.abs(fieldPerAmpere_T_per_A(coil, axis)));
}
