import { FerruleError } from "../../errors.js";
import type { LinearOperator } from "../../numerics/index.js";
import { type RasterGeometry, rasterSizes } from "./raster-geometry.js";
import type { RasterSpectrum } from "./raster-spectrum.js";
import { applyAlong, frequencyOf, realFourierRows, transposed } from "./slow-transform.js";

export interface LineRasterOperator extends LinearOperator {
  readonly geometry: RasterGeometry;
  readonly spectrum: RasterSpectrum;
}

/**
 * Forward model of a line raster as a linear operator: iron concentration on voxels -> voltage rows of every line.
 *
 *   y[b][a][row] = Σ_{b',a',d} K_{|b−b'|,|a−a'|}[row][d] c[b'][a'][d]
 *
 * Across the lines this is a convolution with an even kernel (diagonal in a real Fourier basis, zero-padded), along the
 * drive axis a dense product. Rows are the harmonics of all patches of a line, or a compression of them.
 *
 * @param domain  [columnsB, columnsA, depth], kg Fe/m³
 * @param range   [linesB, linesA, rows], V
 *
 * Valid for   an ideal diagonal gradient, equal line pitch, an adiabatic response
 * Source      signal equation facts S6 with N13's convention (no further mu0), M15, M17 (from memory)
 * Checked by  line-raster-operator.test.ts (adjoint battery; direct summation over points)
 */
export function lineRasterOperator(geometry: RasterGeometry, spectrum: RasterSpectrum): LineRasterOperator {
  const { columnsA, columnsB, linesA, linesB } = rasterSizes(geometry);
  const { sizeA, sizeB, rows, depth } = spectrum;
  const margin = geometry.voxels.marginLines;
  const range = (count: number, shift: number) => Array.from({ length: count }, (_, i) => i - shift);
  const columnsToA = realFourierRows(sizeA, range(columnsA, margin));
  const columnsToB = realFourierRows(sizeB, range(columnsB, margin));
  const linesToA = realFourierRows(sizeA, range(linesA, 0));
  const linesToB = realFourierRows(sizeB, range(linesB, 0));
  const [aToColumns, bToColumns] = [transposed(columnsToA, sizeA, columnsA), transposed(columnsToB, sizeB, columnsB)];
  const [aToLines, bToLines] = [transposed(linesToA, sizeA, linesA), transposed(linesToB, sizeB, linesB)];
  const widest = Math.max(rows, depth);
  const half = new Float64Array(sizeB * Math.max(columnsA, linesA) * widest);
  const voxelModes = new Float64Array(sizeB * sizeA * depth);
  const dataModes = new Float64Array(sizeB * sizeA * rows);

  return {
    name: "line raster",
    geometry,
    spectrum,
    domain: { shape: [columnsB, columnsA, depth], unit: "kg/m3" },
    range: { shape: [linesB, linesA, rows], unit: "V" },
    forward(x, out = new Float64Array(linesB * linesA * rows)) {
      requireLength(x, columnsB * columnsA * depth, "concentration");
      applyAlong(columnsToB, [1, sizeB, columnsB, columnsA * depth], x, half);
      applyAlong(columnsToA, [sizeB, sizeA, columnsA, depth], half, voxelModes);
      multiply(spectrum, voxelModes, dataModes);
      applyAlong(aToLines, [sizeB, linesA, sizeA, rows], dataModes, half);
      applyAlong(bToLines, [1, linesB, sizeB, linesA * rows], half, out);
      return out;
    },
    adjoint(y, out = new Float64Array(columnsB * columnsA * depth)) {
      requireLength(y, linesB * linesA * rows, "voltage rows");
      applyAlong(linesToB, [1, sizeB, linesB, linesA * rows], y, half);
      applyAlong(linesToA, [sizeB, sizeA, linesA, rows], half, dataModes);
      multiplyTransposed(spectrum, dataModes, voxelModes);
      applyAlong(aToColumns, [sizeB, columnsA, sizeA, depth], voxelModes, half);
      applyAlong(bToColumns, [1, columnsB, sizeB, columnsA * depth], half, out);
      return out;
    },
  };
}

/** Visits every mode (mb, ma) with the start of its block in the quarter spectrum. */
function eachMode(
  { sizeA, sizeB, quarterA, rows, depth }: RasterSpectrum,
  visit: (mode: number, block: number) => void,
): void {
  for (let mb = 0; mb < sizeB; mb++)
    for (let ma = 0; ma < sizeA; ma++)
      visit(mb * sizeA + ma, (frequencyOf(mb, sizeB) * quarterA + frequencyOf(ma, sizeA)) * rows * depth);
}

function multiply(spectrum: RasterSpectrum, x: Float64Array, y: Float64Array): void {
  const { rows, depth, blocks } = spectrum;
  eachMode(spectrum, (mode, block) => {
    for (let r = 0; r < rows; r++) {
      let sum = 0;
      for (let d = 0, k = block + r * depth, i = mode * depth; d < depth; d++, k++, i++) sum += blocks[k] * x[i];
      y[mode * rows + r] = sum;
    }
  });
}

function multiplyTransposed(spectrum: RasterSpectrum, y: Float64Array, x: Float64Array): void {
  const { rows, depth, blocks } = spectrum;
  x.fill(0);
  eachMode(spectrum, (mode, block) => {
    for (let r = 0; r < rows; r++) {
      const value = y[mode * rows + r];
      for (let d = 0, k = block + r * depth, i = mode * depth; d < depth; d++, k++, i++) x[i] += blocks[k] * value;
    }
  });
}

function requireLength(array: Float64Array, length: number, what: string): void {
  if (array.length !== length)
    throw new FerruleError("ShapeMismatch", {
      path: what,
      found: `${array.length} values`,
      accepted: `${length} values`,
    });
}
