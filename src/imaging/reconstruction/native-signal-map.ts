import { axisIndex } from "../../physics/index.js";
import { drivePhase, positionAt } from "../acquisition/line-raster.js";
import { type RasterGeometry, rasterSizes } from "../operators/raster-geometry.js";
import { type PatchImage, stitchOffsets } from "./lost-fundamental.js";

/**
 * Native x-space signal map: voltage divided by the field's speed, gridded at the field-free point, patches joined by
 * their overlap. It shows where tracer is. It does not measure mass: its transverse tails fall as 1/r, so its integral
 * grows with the field of view (definitions, surprise 2).
 *
 *   ρ̂(s) = u / (S A ω sin θ) at s = patch − (A/G_d) cos θ
 * Samples near the turning points carry little signal and the same noise: bins are averaged with weights sin²θ. A sample
 * counts for the middle of its bin, which costs up to half a bin of sharpness.
 *
 * @param frames  [patches × samples] background-subtracted voltage in raster order, V
 * @returns [columnsB, columnsA, depth] in A·m²/T (moment slope); columns outside the lines are 0
 *
 * Source      Goodwill et al. 2010, facts M15-M16; D2-D4 (from memory)
 */
export function nativeSignalMap(frames: Float64Array, geometry: RasterGeometry): Float64Array {
  const { raster, voxels } = geometry;
  const { linesA, linesB, columnsA, columnsB, depth, patches, voxels: count } = rasterSizes(geometry);
  const n = raster.samplesPerPeriod;
  const out = new Float64Array(count);
  for (let b = 0; b < linesB; b++)
    for (let a = 0; a < linesA; a++) {
      const [columnA, columnB] = [a + voxels.marginLines, b + voxels.marginLines];
      // A negative margin keeps fewer columns than lines: the outer lines have no place in the map.
      if (columnA < 0 || columnB < 0 || columnA >= columnsA || columnB >= columnsB) continue;
      const line = b * linesA + a;
      const images = Array.from({ length: patches }, (_, p) =>
        gridPatch(frames.subarray((line * patches + p) * n, (line * patches + p + 1) * n), p, geometry),
      );
      const offsets = stitchOffsets(images);
      const column = (columnB * columnsA + columnA) * depth;
      for (let d = 0; d < depth; d++) {
        let weight = 0;
        let sum = 0;
        images.forEach((image, p) => {
          weight += image.weight[d];
          sum += image.weight[d] * (image.value[d] + offsets[p]);
        });
        out[column + d] = weight === 0 ? 0 : sum / weight;
      }
    }
  return out;
}

/** Field-free position along the drive axis at phase θ in patch p, m. */
function gridPatch(frame: Float64Array, patch: number, geometry: RasterGeometry): PatchImage {
  const { raster, voxels } = geometry;
  const n = raster.samplesPerPeriod;
  const reach = raster.driveAmplitude_T / geometry.gradient_T_per_m[axisIndex(raster.driveAxis)];
  const speed = geometry.sensitivity_T_per_A * raster.driveAmplitude_T * 2 * Math.PI * raster.frequency_Hz;
  const value = new Float64Array(voxels.drive.count);
  const weight = new Float64Array(voxels.drive.count);
  for (let j = 0; j < n; j++) {
    const theta = drivePhase(j, n);
    const s = positionAt(raster.patches, patch) - reach * Math.cos(theta);
    const bin = Math.round((s - voxels.drive.from_m) / voxels.drive.step_m);
    if (bin < 0 || bin >= value.length) continue;
    const w = Math.sin(theta) ** 2;
    weight[bin] += w;
    value[bin] += (w * frame[j]) / (speed * Math.sin(theta));
  }
  for (let i = 0; i < value.length; i++) if (weight[i] > 0) value[i] /= weight[i];
  bridgeGaps(value, weight);
  return { value, weight };
}

/** Bins narrower than the way between two samples stay empty in places: value and weight go linearly across them. */
function bridgeGaps(value: Float64Array, weight: Float64Array): void {
  let last = -1;
  for (let i = 0; i < value.length; i++) {
    if (weight[i] === 0) continue;
    for (let k = last + 1; last >= 0 && k < i; k++) {
      const part = (k - last) / (i - last);
      value[k] = (1 - part) * value[last] + part * value[i];
      weight[k] = (1 - part) * weight[last] + part * weight[i];
    }
    last = i;
  }
}
