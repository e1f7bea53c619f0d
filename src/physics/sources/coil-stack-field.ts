import { vacuumPermeability_T_m_per_A } from "../../units/index.js";
import type { Emitter } from "./emitter.js";
import { visitNodes } from "./graded-nodes.js";
import { fieldAbout, type MeridianField, type MeridianPoint, potentialAbout } from "./meridian.js";
import { sheetInMeridian, sheetPotentialInMeridian } from "./sheet-field.js";
import type { CoilStackSource } from "./source.js";

/**
 * Field of a circular winding of rectangular section with uniform current density.
 *   B = 1/(r₂ − r₁)·∫_{r₁}^{r₂} B_sheet(a) da; a thin sheet when r₁ = r₂
 *
 * Valid for   everywhere, conductors included, but on the four rims of the section; total error about 1e-13 of |B|.
 *             The integral is split at the observer's radius, where the sheet's B_z jumps, and halved toward it when the
 *             observer is near the plane of an end.
 * Source      superposition of `sheetInMeridian`, derived
 * Checked by  checks/coil-fields (double quadrature over the section, points inside it included)
 */
export function coilStackEmitter(source: CoilStackSource): Emitter {
  return fieldAbout(source, overRadius(source, { field: sheetInMeridian, parts: 2 }));
}

/**
 * Vector potential of the winding, by quadrature over its section.
 * Valid for   everywhere; relative error about 1e-12. Slow inside the winding (milliseconds a point).
 */
export function coilStackPotentialEmitter(source: CoilStackSource): Emitter {
  return potentialAbout(source, overRadius(source, { field: sheetPotentialInMeridian, parts: 1 }));
}

interface SheetKernel {
  readonly field: typeof sheetInMeridian;
  /** How many numbers it writes. */
  readonly parts: 1 | 2;
}

function overRadius(source: CoilStackSource, { field, parts }: SheetKernel): MeridianField {
  const { innerRadius_m: inner, outerRadius_m: outer, length_m, current_A } = source;
  const halfLength_m = length_m / 2;
  const strength = (vacuumPermeability_T_m_per_A * current_A) / length_m;
  const sheet = { radius_m: inner, halfLength_m };
  const sum = new Float64Array(parts);
  const add = (point: MeridianPoint, out: Float64Array) => (radius_m: number, weight: number) => {
    sheet.radius_m = radius_m;
    field(sheet, point, out);
    // In the plane of an end a node can fall onto the sheet's rim by rounding; its share is weight·log, below rounding.
    if (Number.isNaN(out[0]) && inner !== outer && Number.isFinite(point.rho_m + point.z_m)) return;
    for (let i = 0; i < parts; i++) sum[i] += weight * out[i];
  };
  return (point, out) => {
    sum.fill(0);
    const visit = add(point, out);
    if (inner === outer) visit(inner, strength);
    else {
      const toEnd = Math.min(Math.abs(point.z_m - halfLength_m), Math.abs(point.z_m + halfLength_m));
      // Far away the field goes as a², which grows on the ellipse of a distant pole: held within ten radii.
      const pole = { at: Math.min(point.rho_m, 10 * outer), off: Math.min(toEnd, 10 * outer) };
      const split = Math.min(outer, Math.max(inner, point.rho_m));
      const perRadius = strength / (outer - inner);
      visitNodes([inner, split], pole, (radius, weight) => visit(radius, weight * perRadius));
      visitNodes([split, outer], pole, (radius, weight) => visit(radius, weight * perRadius));
    }
    for (let i = 0; i < parts; i++) out[i] = sum[i];
  };
}
