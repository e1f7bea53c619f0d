import type { z } from "zod";
import { type Refusal, refuse } from "../fields/refuse.js";
import type { Vector3 } from "../fields/vector-field.js";

/** Rows of dB_i/dx_j (B stands for mu0*H), T/m. */
export type Tensor3 = readonly [Vector3, Vector3, Vector3];

export type Topology = "field-free-point" | "field-free-line";

/** Documents round to about seven digits; what free space demands is met to that. */
const relativeTolerance = 1e-6;

export function diagonalTensor([x, y, z]: Vector3): Tensor3 {
  return [
    [x, 0, 0],
    [0, y, 0],
    [0, 0, z],
  ];
}

/**
 * How far a traceless symmetric tensor is from one with a field-free line: |det G| / (|G|_F / sqrt 2)^3.
 * With eigenvalues (a, -a-e, e) this tends to |e/a|: 0 for (G, -G, 0), 0.385 for (-G/2, -G/2, G), the largest value.
 *
 * Valid for   symmetric traceless G, not all zero. Source: derived.
 */
export function distanceFromLine(tensor: Tensor3): number {
  const largest = Math.max(...tensor.flat().map(Math.abs)); // divided out first: squares must not overflow
  const scaled = tensor.map((row) => row.map((each) => each / largest)) as unknown as Tensor3;
  const norm = Math.sqrt(scaled.flat().reduce((sum, each) => sum + each * each, 0) / 2);
  return Math.abs(determinant(scaled)) / norm ** 3;
}

/** Free space wants div B = 0 and curl B = 0; the stated topology must be the one that the tensor has. */
export function refuseImpossibleField(
  { tensor, topology }: { readonly tensor: Tensor3; readonly topology: Topology },
  sink: z.core.$RefinementCtx,
): void {
  const fault = tensorFault(tensor);
  if (fault === undefined) refuseOtherTopology(distanceFromLine(tensor), topology, sink);
  else refuse(sink, ["selectionField", "gradient"], fault);
}

/** What keeps a tensor from being a magnetic gradient in free space, or `undefined`. */
function tensorFault(tensor: Tensor3): Refusal | undefined {
  const largest = Math.max(...tensor.flat().map(Math.abs));
  if (largest === 0) return { found: "a gradient of zero", accepted: gradientExample };
  const [[xx], [, yy], [, , zz]] = tensor;
  const trace = xx + yy + zz;
  if (Math.abs(trace) > relativeTolerance * largest)
    return {
      found: `the diagonal ${round(xx)}, ${round(yy)}, ${round(zz)} T/m, whose sum is ${round(trace)} T/m`,
      accepted: `a diagonal whose sum is 0 (div B = 0), e.g. ${round(xx)}, ${round(yy)}, ${round(-xx - yy)} T/m`,
    };
  const [first, second] = largestAsymmetry(tensor);
  if (Math.abs(first.value - second.value) <= relativeTolerance * largest) return undefined;
  return {
    found: `${round(first.value)} T/m at ${first.name} but ${round(second.value)} T/m at ${second.name}`,
    accepted: "a symmetric tensor (curl B = 0 in free space): both the same",
  };
}

function refuseOtherTopology(distance: number, topology: Topology, sink: z.core.$RefinementCtx): void {
  const actual: Topology = distance <= relativeTolerance ? "field-free-line" : "field-free-point";
  if (actual === topology) return;
  refuse(sink, ["topology"], {
    found: `"${topology}" with the gradient of a ${actual.replace(/-(point|line)$/, " $1")}`,
    accepted: `"${actual}", or a gradient such as ${topology === "field-free-line" ? "7, -7, 0" : "-3.5, -3.5, 7"} T/m`,
  });
}

const gradientExample = 'three diagonal elements whose sum is 0, e.g. ["-3.5 T/m", "-3.5 T/m", "7 T/m"]';

function largestAsymmetry([[, xy, xz], [yx, , yz], [zx, zy]]: Tensor3) {
  const pairs = [
    [
      { name: "xy", value: xy },
      { name: "yx", value: yx },
    ],
    [
      { name: "xz", value: xz },
      { name: "zx", value: zx },
    ],
    [
      { name: "yz", value: yz },
      { name: "zy", value: zy },
    ],
  ] as const;
  const gap = ([a, b]: (typeof pairs)[number]) => Math.abs(a.value - b.value);
  return pairs.reduce((worst, pair) => (gap(pair) > gap(worst) ? pair : worst));
}

function determinant([[a, b, c], [d, e, f], [g, h, i]]: Tensor3): number {
  return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
}

function round(value: number): string {
  return String(Number(value.toPrecision(7)));
}
