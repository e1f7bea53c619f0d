import { erfc } from "../special/erf.js";
import { advance, nextUnit } from "./sfc64.js";

const layers = 256;
/** Right edge of the base strip for 256 strips of equal area, and that area: the base's rectangle and the tail. */
const edge = 3.654152885361009;
const area = edge * Math.exp((-edge * edge) / 2) + Math.sqrt(Math.PI / 2) * erfc(edge / Math.SQRT2);
const two52 = 2 ** 52;

/** Tables of the ziggurat, 256 strips each. */
export interface NormalTables {
  /** Bound of the 52-bit number below which the point is surely under the curve. */
  readonly bound: Float64Array;
  /** Width of a strip per unit of the 52-bit number. */
  readonly width: Float64Array;
  /** Density exp(−x²/2) at the strip's edge. */
  readonly height: Float64Array;
}

/** Of the definition; twins are given the same. */
export const normalTables: NormalTables = /* @__PURE__ */ makeTables();
const { bound, width, height } = normalTables;

function makeTables(): NormalTables {
  const tables = {
    bound: new Float64Array(layers),
    width: new Float64Array(layers),
    height: new Float64Array(layers),
  };
  const density = (x: number) => Math.exp((-x * x) / 2);
  const base = area / density(edge);
  tables.bound[0] = Math.floor((edge / base) * two52);
  tables.width[0] = base / two52;
  tables.height[0] = 1;
  tables.width[layers - 1] = edge / two52;
  tables.height[layers - 1] = density(edge);
  let outer = edge;
  for (let i = layers - 2; i >= 1; i--) {
    const x = Math.sqrt(-2 * Math.log(area / outer + density(outer)));
    tables.bound[i + 1] = Math.floor((x / outer) * two52);
    tables.width[i] = x / two52;
    tables.height[i] = density(x);
    outer = x;
  }
  tables.bound[1] = 0;
  return tables;
}

/**
 * Next standard normal number, by the ziggurat method with 256 strips and 52-bit resolution; the strip, the sign and
 * the position come from separate bits of one 64-bit draw (so the known flaw of the 32-bit original does not arise).
 *
 * Source      Marsaglia & Tsang, J. Stat. Softw. 5(8) (2000); separate bits after Doornik (2005); edge for 256
 *             strips from memory, confirmed by the check
 * Checked by  checks/random (value for value against numpy's sampler on the same bits), stream.test.ts
 */
export function nextNormal(s: Int32Array): number {
  for (;;) {
    advance(s);
    const low = s[8];
    const strip = low & 0xff;
    // Bits 9 to 60 of the draw.
    const position = ((s[9] & 0x1fffffff) >>> 0) * 0x800000 + (low >>> 9);
    const x = position * width[strip];
    if (position < bound[strip]) return low & 0x100 ? -x : x;
    const outside = fromEdge(s, x, strip);
    if (!Number.isNaN(outside)) {
      if (strip === 0) return isTailNegative(position) ? -outside : outside;
      return low & 0x100 ? -outside : outside;
    }
  }
}

/** Rare part: the tail beyond the edge, or the wedge between a strip and the curve. NaN: rejected. */
function fromEdge(s: Int32Array, x: number, strip: number): number {
  if (strip === 0) {
    for (;;) {
      const beyond = -Math.log1p(-nextUnit(s)) / edge;
      const y = -Math.log1p(-nextUnit(s));
      if (2 * y > beyond * beyond) return edge + beyond;
    }
  }
  const y = (height[strip - 1] - height[strip]) * nextUnit(s) + height[strip];
  return y < Math.exp((-x * x) / 2) ? x : Number.NaN;
}

/** In the tail the sign comes from bit 8 of the position, which is not used otherwise there. */
function isTailNegative(position: number): boolean {
  return Math.floor(position / 256) % 2 === 1;
}
