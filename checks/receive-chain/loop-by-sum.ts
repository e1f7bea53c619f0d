import type { FieldFunction } from "../../src/physics/sources/source.js";
import { vacuumPermeability_T_m_per_A } from "../../src/units/index.js";

/**
 * Field of a round loop about z at 1 A by the plainest sum over its wire: what the receive chain is given here stays
 * independent of the program's own sources. Equal steps around converge geometrically off the wire.
 */
export function loopBySum(radius_m: number, { turns = 1, z_m = 0, steps = 720 } = {}): FieldFunction {
  return (points_m, out = new Float64Array(points_m.length)) => {
    for (let i = 0; i < points_m.length; i += 3) addLoop(points_m.subarray(i, i + 3), out.subarray(i, i + 3));
    return out;
  };

  function addLoop(point: Float64Array, out: Float64Array): void {
    out.fill(0);
    const scale = (vacuumPermeability_T_m_per_A * turns * radius_m) / (2 * steps);
    for (let t = 0; t < steps; t++) {
      const angle = (2 * Math.PI * t) / steps;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      const [x, y, z] = [point[0] - radius_m * c, point[1] - radius_m * s, point[2] - z_m];
      const cube = Math.hypot(x, y, z) ** 3;
      // dl = (-s, c, 0); dl x r
      out[0] += (scale * c * z) / cube;
      out[1] += (scale * s * z) / cube;
      out[2] += (scale * (-s * y - c * x)) / cube;
    }
  }
}

/** The sum of several fields. */
export function together(...fields: readonly FieldFunction[]): FieldFunction {
  return (points_m, out = new Float64Array(points_m.length)) => {
    out.fill(0);
    for (const field of fields) {
      const part = field(points_m);
      for (let i = 0; i < out.length; i++) out[i] += part[i];
    }
    return out;
  };
}
