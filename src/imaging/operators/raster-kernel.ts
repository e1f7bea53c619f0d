import { axisIndex, collinearSlope } from "../../physics/index.js";
import { drivePhase, positionAt, slowAxes } from "../acquisition/line-raster.js";
import { type RasterGeometry, rasterSizes, voxelSize_m, voxelVolume_m3 } from "./raster-geometry.js";

/**
 * Voltage harmonics on one line per unit concentration in one voxel column, for a distance (Δa, Δb) between them.
 *
 *   u(t) = S A ω sin θ · c V · dm_z/dB_z(B),  B = G·(r_voxel − r_line,patch) + A cos θ ê_d,  θ = ωt
 *   y_n  = (2/N) Σ_j u(θ_j) sin nθ_j
 *
 * dB/dt = −A ω sin θ and u = −dΦ/dt give the positive sign. An adiabatic response is even in θ, so its voltage has sine
 * terms only; the cosine terms carry noise alone. The voxel is a box with uniform concentration: 2 × 2 × 2 Gauss points.
 *
 * @returns [rows × depth] in V per kg/m³; row = patch · harmonics + (n − first)
 */
export function columnKernel(
  geometry: RasterGeometry,
  stepsA: number,
  stepsB: number,
  out: Float64Array,
): Float64Array {
  const { raster, gradient_T_per_m, response, voxels } = geometry;
  const { patches, depth, harmonics: kept } = rasterSizes(geometry);
  const [axisA, axisB] = slowAxes(raster.driveAxis).map(axisIndex);
  const gradientD = gradient_T_per_m[axisIndex(raster.driveAxis)];
  const size = voxelSize_m(geometry);
  const gauss = 0.5 / Math.sqrt(3);
  const acrossA = [-gauss, gauss].map((g) => (gradient_T_per_m[axisA] * (stepsA + g) * size[0]) ** 2);
  const acrossB = [-gauss, gauss].map((g) => (gradient_T_per_m[axisB] * (stepsB + g) * size[1]) ** 2);
  const across2 = [acrossA[0] + acrossB[0], acrossA[0] + acrossB[1], acrossA[1] + acrossB[0], acrossA[1] + acrossB[1]];
  const { sines, drive_T, half } = periodTable(geometry);
  const scale =
    (geometry.sensitivity_T_per_A *
      raster.driveAmplitude_T *
      2 *
      Math.PI *
      raster.frequency_Hz *
      voxelVolume_m3(geometry)) /
    8;
  const slope = new Float64Array(half);
  for (let p = 0; p < patches; p++)
    for (let d = 0; d < depth; d++) {
      const offset = positionAt(voxels.drive, d) - positionAt(raster.patches, p);
      slope.fill(0);
      for (const g of [-gauss, gauss]) {
        const slow_T = gradientD * (offset + g * size[2]);
        for (let j = 0; j < half; j++)
          for (let q = 0; q < 4; q++) slope[j] += collinearSlope(response, slow_T + drive_T[j], across2[q]);
      }
      for (let h = 0; h < kept; h++) {
        let sum = 0;
        for (let j = 0; j < half; j++) sum += sines[h * half + j] * slope[j];
        out[(p * kept + h) * depth + d] = scale * sum;
      }
    }
  return out;
}

/** Half a period suffices: the response at θ and 2π − θ is the same. */
function periodTable({ raster, harmonics }: RasterGeometry) {
  const n = raster.samplesPerPeriod;
  const half = n / 2;
  const kept = harmonics.last - harmonics.first + 1;
  const drive_T = Float64Array.from({ length: half }, (_, j) => raster.driveAmplitude_T * Math.cos(drivePhase(j, n)));
  const sines = new Float64Array(kept * half);
  for (let h = 0; h < kept; h++)
    for (let j = 0; j < half; j++) {
      const theta = drivePhase(j, n);
      sines[h * half + j] = (2 / n) * 2 * Math.sin(theta) * Math.sin((harmonics.first + h) * theta);
    }
  return { sines, drive_T, half };
}
