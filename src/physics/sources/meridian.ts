import type { Emitter } from "./emitter.js";
import type { Vector3 } from "./source.js";

/** A point in the half-plane of a body of revolution: distance from its axis, height above its centre. */
export interface MeridianPoint {
  rho_m: number;
  z_m: number;
}

/** Writes [B_rho/rho, B_z], or [A_phi/rho]: divided by rho these are regular on the axis. */
export type MeridianField = (point: MeridianPoint, out: Float64Array) => void;

interface Turned {
  readonly center_m: Vector3;
  readonly normal: Vector3;
}

/** The field of a body of revolution, in scanner axes: B = (B_rho/rho)·p + B_z·n, p the vector from the axis. */
export function fieldAbout({ center_m, normal }: Turned, field: MeridianField): Emitter {
  const [cx, cy, cz] = center_m;
  const [nx, ny, nz] = normal;
  const point = { rho_m: 0, z_m: 0 };
  const out = new Float64Array(2);
  return (x, y, z, sum) => {
    const height = (x - cx) * nx + (y - cy) * ny + (z - cz) * nz;
    const px = x - cx - height * nx;
    const py = y - cy - height * ny;
    const pz = z - cz - height * nz;
    point.rho_m = Math.sqrt(px * px + py * py + pz * pz);
    point.z_m = height;
    field(point, out);
    sum[0] += out[0] * px + out[1] * nx;
    sum[1] += out[0] * py + out[1] * ny;
    sum[2] += out[0] * pz + out[1] * nz;
  };
}

/** The vector potential of a body of revolution, in scanner axes: A = (A_phi/rho)·(n x p). */
export function potentialAbout({ center_m, normal }: Turned, potential: MeridianField): Emitter {
  const [cx, cy, cz] = center_m;
  const [nx, ny, nz] = normal;
  const point = { rho_m: 0, z_m: 0 };
  const out = new Float64Array(1);
  return (x, y, z, sum) => {
    const [dx, dy, dz] = [x - cx, y - cy, z - cz];
    const height = dx * nx + dy * ny + dz * nz;
    point.rho_m = Math.hypot(dx - height * nx, dy - height * ny, dz - height * nz);
    point.z_m = height;
    potential(point, out);
    sum[0] += out[0] * (ny * dz - nz * dy);
    sum[1] += out[0] * (nz * dx - nx * dz);
    sum[2] += out[0] * (nx * dy - ny * dx);
  };
}
