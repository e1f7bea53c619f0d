import { FerruleError } from "../../errors.js";
import { choleskyFactor, choleskySolve, type Steps } from "../../numerics/index.js";
import { fromHalf, type MirrorHalf, mirrored, mirrorHalf, mirrorNorm, toHalf } from "./mirror-sectors.js";
import { type RasterGeometry, rasterSizes } from "./raster-geometry.js";
import { kernelStart } from "./raster-kernels.js";
import type { CompressedKernels } from "./row-compression.js";

/**
 * The normal matrix AᵀA of a line raster in its eight mirror sectors (even and odd along a, b and the drive axis).
 * The raster and its voxels are symmetric about a common centre and the kernel is even, so the sectors do not mix and
 * each is a dense matrix an eighth of the size: small enough to be factored directly.
 */
export interface NormalSectors {
  readonly sectors: readonly Sector[];
  readonly columns: readonly [number, number, number];
}

interface Sector {
  readonly b: MirrorHalf;
  readonly a: MirrorHalf;
  readonly d: MirrorHalf;
  /** [n × n] AᵀA within the sector, lower half and diagonal */
  readonly gram: Float64Array;
  readonly size: number;
}

export function* sectorSteps(geometry: RasterGeometry, compressed: CompressedKernels): Steps<NormalSectors> {
  requireCentred(geometry);
  const { columnsA, columnsB, depth } = rasterSizes(geometry);
  const sectors: Sector[] = [];
  for (const pb of [1, -1] as const)
    for (const pa of [1, -1] as const)
      for (const pd of [1, -1] as const) {
        yield sectors.length / 8;
        const halves = { b: mirrorHalf(columnsB, pb), a: mirrorHalf(columnsA, pa), d: mirrorHalf(depth, pd) };
        const size =
          halves.b.representatives.length * halves.a.representatives.length * halves.d.representatives.length;
        if (size > 0) sectors.push({ ...halves, size, gram: gramOf(sectorMatrix(geometry, compressed, halves), size) });
      }
  return { sectors, columns: [columnsB, columnsA, depth] };
}

/** trace(AᵀA): the sectors' own combinations are an orthonormal basis. */
export function normalTrace({ sectors }: NormalSectors): number {
  let trace = 0;
  for (const { gram, size } of sectors) for (let i = 0; i < size; i++) trace += gram[i * size + i];
  return trace;
}

/** Solver of (AᵀA + λI) x = w from the factored sectors. */
export function factorSectors({ sectors, columns }: NormalSectors, weight: number): (w: Float64Array) => Float64Array {
  const factors = sectors.map(({ gram, size }) => {
    const damped = gram.slice();
    for (let i = 0; i < size; i++) damped[i * size + i] += weight;
    const factor = choleskyFactor(damped, size);
    if (factor === undefined)
      throw new FerruleError("InvalidValue", {
        path: "reconstruction.relativeWeight",
        found: `a regularisation weight of ${weight} that leaves the normal equations singular`,
        accepted: "a larger weight, e.g. 1e-3",
      });
    return factor;
  });
  const [, na, nd] = columns;
  return (w) => {
    const out = new Float64Array(w.length);
    sectors.forEach(({ b, a, d }, s) => {
      const [hb, ha] = [b.representatives.length, a.representatives.length];
      const part: Float64Array = toHalf(d, hb * ha, 1, toHalf(a, hb, nd, toHalf(b, 1, na * nd, w)));
      const solved = choleskySolve(factors[s], part, part);
      const back = fromHalf(b, 1, na * nd, fromHalf(a, hb, nd, fromHalf(d, hb * ha, 1, solved)));
      for (let i = 0; i < out.length; i++) out[i] += back[i];
    });
    return out;
  };
}

/**
 * A within one sector, [data × size] row-major:
 *   A_s[i, j] = n_i n_j Σ_{mirrors g of j} sign_g K(i − g j)  (both slow axes),  rows of the sector's own drive parity
 */
function sectorMatrix(
  geometry: RasterGeometry,
  { kernels, compression }: CompressedKernels,
  { b, a, d }: { b: MirrorHalf; a: MirrorHalf; d: MirrorHalf },
): Float64Array {
  const { linesA, linesB } = rasterSizes(geometry);
  const margin = geometry.voxels.marginLines;
  const [lb, la] = [mirrorHalf(linesB, b.parity), mirrorHalf(linesA, a.parity)];
  const rows = [...compression.parity.keys()].filter((r) => compression.parity[r] === d.parity);
  const nd = d.representatives.length;
  const size = b.representatives.length * a.representatives.length * nd;
  const out = new Float64Array(lb.representatives.length * la.representatives.length * rows.length * size);
  let line = 0;
  for (const ib of lb.representatives)
    for (const ia of la.representatives) {
      let column = 0;
      for (const jb of b.representatives)
        for (const ja of a.representatives) {
          for (const gb of [jb, mirrored(b, jb)])
            for (const ga of [ja, mirrored(a, ja)]) {
              const norms = mirrorNorm(lb, ib) * mirrorNorm(la, ia) * mirrorNorm(b, jb) * mirrorNorm(a, ja);
              // A column that is its own mirror meets itself here twice; its norm 1/√2 (with the line's) corrects it.
              const isOther = { b: gb !== jb, a: ga !== ja };
              const sign = (isOther.b ? b.parity : 1) * (isOther.a ? a.parity : 1);
              const start = kernelStart(kernels, ia - (ga - margin), ib - (gb - margin));
              addColumns(out, kernels.values, {
                line,
                column,
                rows,
                d,
                start,
                depth: kernels.depth,
                size,
                weight: sign * norms,
              });
            }
          column += nd;
        }
      line += rows.length;
    }
  return out;
}

function addColumns(
  out: Float64Array,
  kernel: Float64Array,
  {
    line,
    column,
    rows,
    d,
    start,
    depth,
    size,
    weight,
  }: {
    line: number;
    column: number;
    rows: readonly number[];
    d: MirrorHalf;
    start: number;
    depth: number;
    size: number;
    weight: number;
  },
): void {
  rows.forEach((r, index) => {
    const to = (line + index) * size + column;
    for (let k = 0; k < d.representatives.length; k++) {
      const i = d.representatives[k];
      const norm = mirrored(d, i) === i ? 1 : Math.SQRT2;
      out[to + k] += weight * norm * kernel[start + r * depth + i];
    }
  });
}

/** Lower half of AᵀA, four data rows at a time so that the result is read and written a quarter as often. */
function gramOf(matrix: Float64Array, n: number): Float64Array {
  const gram = new Float64Array(n * n);
  const count = matrix.length / n;
  const zero = new Float64Array(n);
  for (let k = 0; k < count; k += 4) {
    const [r0, r1, r2, r3] = [0, 1, 2, 3].map((i) =>
      k + i < count ? matrix.subarray((k + i) * n, (k + i + 1) * n) : zero,
    );
    for (let i = 0; i < n; i++) {
      const [a0, a1, a2, a3] = [r0[i], r1[i], r2[i], r3[i]];
      for (let j = 0, at = i * n; j <= i; j++, at++) gram[at] += a0 * r0[j] + a1 * r1[j] + a2 * r2[j] + a3 * r3[j];
    }
  }
  return gram;
}

function requireCentred({ raster, voxels }: RasterGeometry): void {
  const centre = ({ from_m, step_m, count }: { from_m: number; step_m: number; count: number }) =>
    from_m + (step_m * (count - 1)) / 2;
  const gap = Math.abs(centre(raster.patches) - centre(voxels.drive));
  if (gap > 1e-6 * voxels.drive.step_m)
    throw new FerruleError("InvalidValue", {
      path: "voxels.drive",
      found: `voxels centred ${gap} m away from the patches`,
      accepted: "voxels that share the patches' centre along the drive axis",
    });
}
