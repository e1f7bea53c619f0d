import type { Body } from "../body.js";
import { type Drive, driveSwing, dutyOf } from "../drive.js";
import { axialCylinderHeating, axialLayersHeating } from "./axial-cylinder.js";
import { ellipticHeating } from "./elliptic-section.js";
import type { FieldRate, SectionHeating } from "./section.js";
import { transverseHeating, transverseLayersHeating } from "./transverse-cylinder.js";

/** Heating of a body's section by one drive: averaged over its duty, in the model that suits its axis and section. */
export function bodyHeating(body: Body, drive: Drive): SectionHeating {
  const { peakRate_T_per_s, meanSquareRate_T2_per_s2 } = driveSwing(drive);
  const rate = { peakRate_T_per_s, meanSquareRate_T2_per_s2: meanSquareRate_T2_per_s2 * dutyOf(drive) };
  return drive.axis === "z" ? alongBody(body, rate) : acrossBody(body, drive.axis, rate);
}

function alongBody(body: Body, rate: FieldRate): SectionHeating {
  if (body.layers !== undefined) return axialLayersHeating(body.layers, rate);
  if (body.semiAxes_m !== undefined) return ellipticHeating(body.semiAxes_m, body, rate);
  return axialCylinderHeating(body.radius_m, body, rate);
}

/** A field along x drives loops whose width is the section's extent along y. */
function acrossBody(body: Body, axis: "x" | "y", rate: FieldRate): SectionHeating {
  if (body.layers !== undefined) return transverseLayersHeating(body.layers, rate);
  const halfWidth_m = body.semiAxes_m === undefined ? body.radius_m : body.semiAxes_m[axis === "x" ? "y" : "x"];
  return transverseHeating(halfWidth_m, body, rate);
}
