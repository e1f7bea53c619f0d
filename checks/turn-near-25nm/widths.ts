import {
  cosineDrive,
  periodicResponse,
  type Relaxation,
  sampleField,
  staticWidth_T,
  sweepResponse,
} from "../../src/physics/index.js";

export const diameters_nm = [18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32];
const samples = 512;
const drive = cosineDrive(20e-3, 20e3);
const ensembleOf = (diameter_nm: number) => ({
  sizes: { kind: "single", diameter_m: diameter_nm * 1e-9 } as const,
  saturation_A_per_m: 446e3,
  temperature_K: 295,
});

export const combined = (anisotropy_J_per_m3: number, thickness_m: number): Relaxation => ({
  kind: "combined",
  viscosity_Pa_s: 0.95e-3,
  hydrodynamic: { kind: "shell", thickness_m },
  anisotropy_J_per_m3,
  attemptTime_s: 1e-9,
});

export const neel = (anisotropy_J_per_m3: number): Relaxation => ({
  kind: "neel",
  anisotropy_J_per_m3,
  damping: 0.1,
  easyAxes: "parallel",
});

/** Width at the drive, mT; Infinity where the response lags beyond the turning point. */
export function width_mT(diameter_nm: number, relaxation: Relaxation): number {
  const { magnetisation } = periodicResponse(drive, { ensemble: ensembleOf(diameter_nm), relaxation }, { samples });
  const { width_T } = sweepResponse(sampleField(drive, samples), magnetisation).forward;
  return width_T === undefined ? Number.POSITIVE_INFINITY : width_T * 1e3;
}

export const staticWidth_mT = (diameter_nm: number): number => staticWidth_T(ensembleOf(diameter_nm)) * 1e3;

/** The diameter of the smallest width, nm. */
export function turn_nm(relaxation: Relaxation): number {
  const widths = diameters_nm.map((d) => width_mT(d, relaxation));
  return diameters_nm[widths.indexOf(Math.min(...widths))];
}

/** The corners of the frozen band: anisotropy in J/m3, coating in m. */
export const corners = [2e3, 3e3, 5e3].flatMap((K) => [5e-9, 10e-9, 20e-9].map((shell) => [K, shell] as const));
