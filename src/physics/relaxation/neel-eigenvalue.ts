import { gaussLegendre } from "../../numerics/index.js";
import { requireBetween, requirePositive } from "../particle/ranges.js";

/** Nodes per panel of the composite rule. */
const perPanel = 10;

/**
 * Exact zero-field Neel time: the slowest odd mode of the axial Fokker-Planck operator.
 *   d/dx[(1 - x^2) e^(sigma x^2) f'] = -mu e^(sigma x^2) f,  f odd;  tau_N = 2 tau_N0 / mu
 *
 * @param barrier  sigma = K V/(kB T)
 * @param freeTime_s  tau_N0
 * @returns s; tau_N0 itself at sigma = 0
 *
 * Valid for   sigma from 0 to 500, relative error below 1e-12
 * Source      W. F. Brown, Phys. Rev. 130:1677 (1963); from memory, operator derived
 * Checked by  checks/relaxation (80-digit eigenvalues of the matrix of the operator)
 */
export function exactNeelTime_s(barrier: number, freeTime_s: number): number {
  requirePositive(freeTime_s, "freeTime_s", "1e-9");
  return (2 * freeTime_s) / lowestEigenvalue(barrier);
}

/**
 * mu by inverse iteration. Integrated twice, the equation says f = mu K f with
 *   (K f)(x) = int_0^x dy e^(-sigma y^2) / (1 - y^2) int_y^1 dz e^(sigma z^2) f(z),
 * every part of which is positive: so mu keeps its digits where it is as small as e^-sigma, as no matrix solver would.
 */
function lowestEigenvalue(barrier: number): number {
  requireBetween(barrier, [0, 500], { path: "barrier", example: "13.1" });
  const rule = panels(Math.max(16, Math.ceil(barrier)));
  const { x, toOne, weight } = rule;
  // Both exponentials are scaled by e^sigma: the product is what counts.
  const density = x.map((_, i) => Math.exp(-barrier * toOne[i] * (2 - toOne[i])));
  let f = Float64Array.from(x);
  let mu = 0;
  for (let round = 0; round < 100; round++) {
    const image = applyInverse(f, density, rule);
    let ff = 0;
    let fKf = 0;
    let largest = 0;
    for (let i = 0; i < x.length; i++) {
      ff += weight[i] * density[i] * f[i] * f[i];
      fKf += weight[i] * density[i] * f[i] * image[i];
      largest = Math.max(largest, image[i]);
    }
    const before = mu;
    mu = ff / fKf;
    f = image.map((value) => value / largest);
    if (Math.abs(mu - before) <= 1e-15 * mu) break;
  }
  return mu;
}

interface Panels {
  /** Nodes from 0 to 1, 1 - nodes (exact near 1), weights, [panels * perPanel]. */
  readonly x: Float64Array;
  readonly toOne: Float64Array;
  readonly weight: Float64Array;
  /** int from a panel's left end to its i-th node of the j-th cardinal function, in half panel widths, [i, j]. */
  readonly upTo: Float64Array;
  readonly half: number;
}

function panels(count: number): Panels {
  const { nodes, weights } = gaussLegendre(perPanel);
  const half = 0.5 / count;
  const at = (_: unknown, i: number) => [Math.floor(i / perPanel), i % perPanel] as const;
  const places = Array.from({ length: count * perPanel }, at);
  return {
    x: Float64Array.from(places, ([panel, j]) => (2 * panel + 1 + nodes[j]) * half),
    toOne: Float64Array.from(places, ([panel, j]) => (2 * (count - panel) - 1 - nodes[j]) * half),
    weight: Float64Array.from(places, ([, j]) => weights[j] * half),
    upTo: integrationMatrix(nodes, weights),
    half,
  };
}

/** B_ij = w_j { (1 + x_i)/2 + sum_k P_k(x_j) [P_k+1(x_i) - P_k-1(x_i)] / 2 }: exact for polynomials of degree perPanel - 1. */
function integrationMatrix(nodes: Float64Array, weights: Float64Array): Float64Array {
  const p = Array.from(nodes, (x) => legendreValues(x, perPanel + 1));
  const matrix = new Float64Array(perPanel * perPanel);
  for (let i = 0; i < perPanel; i++)
    for (let j = 0; j < perPanel; j++) {
      let sum = (1 + nodes[i]) / 2;
      for (let k = 1; k < perPanel; k++) sum += (p[j][k] * (p[i][k + 1] - p[i][k - 1])) / 2;
      matrix[i * perPanel + j] = weights[j] * sum;
    }
  return matrix;
}

function legendreValues(x: number, highest: number): Float64Array {
  const values = new Float64Array(highest + 1);
  values[0] = 1;
  values[1] = x;
  for (let k = 2; k <= highest; k++) values[k] = ((2 * k - 1) * x * values[k - 1] - (k - 1) * values[k - 2]) / k;
  return values;
}

function applyInverse(f: Float64Array, density: Float64Array, rule: Panels): Float64Array {
  const { toOne, weight } = rule;
  const n = f.length;
  const weighted = f.map((value, i) => density[i] * value);
  // Inner integral, from each node to 1.
  const flux = new Float64Array(n);
  let beyond = 0;
  for (let from = n - perPanel; from >= 0; from -= perPanel) {
    let whole = 0;
    for (let j = 0; j < perPanel; j++) whole += weight[from + j] * weighted[from + j];
    for (let i = 0; i < perPanel; i++) flux[from + i] = beyond + whole - upToNode(weighted, from, i, rule);
    beyond += whole;
  }
  const slope = flux.map((value, i) => value / (density[i] * toOne[i] * (2 - toOne[i])));
  // Outer integral, from 0 to each node.
  const image = new Float64Array(n);
  let before = 0;
  for (let from = 0; from < n; from += perPanel) {
    for (let i = 0; i < perPanel; i++) image[from + i] = before + upToNode(slope, from, i, rule);
    for (let j = 0; j < perPanel; j++) before += weight[from + j] * slope[from + j];
  }
  return image;
}

function upToNode(values: Float64Array, from: number, i: number, { upTo, half }: Panels): number {
  let sum = 0;
  for (let j = 0; j < perPanel; j++) sum += upTo[i * perPanel + j] * values[from + j];
  return sum * half;
}
