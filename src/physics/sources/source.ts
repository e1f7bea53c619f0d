/** x, y, z in SI, scanner axes. */
export type Vector3 = readonly [number, number, number];

/** Filament; a positive current turns right-handed about `normal`. `current_A` counts ampere-turns, here and below. */
export interface LoopSource {
  readonly kind: "loop";
  readonly center_m: Vector3;
  /** Unit vector. */
  readonly normal: Vector3;
  readonly radius_m: number;
  readonly current_A: number;
}

/** Circular winding of rectangular section, uniform current density; `innerRadius_m` = `outerRadius_m` is a thin sheet. */
export interface CoilStackSource {
  readonly kind: "coil-stack";
  readonly center_m: Vector3;
  readonly normal: Vector3;
  readonly innerRadius_m: number;
  readonly outerRadius_m: number;
  readonly length_m: number;
  readonly current_A: number;
}

/** Straight filament of finite length. Alone it does not conserve charge: only closed paths are physical. */
export interface SegmentSource {
  readonly kind: "segment";
  readonly from_m: Vector3;
  readonly to_m: Vector3;
  readonly current_A: number;
}

/** Rectangular filament; the current turns right-handed about `normal`. */
export interface RectangleSource {
  readonly kind: "rectangle";
  readonly center_m: Vector3;
  readonly normal: Vector3;
  /** Unit vector along the first edge, across `normal`. */
  readonly edge: Vector3;
  /** Along `edge`, and along normal x edge. */
  readonly size_m: readonly [number, number];
  readonly current_A: number;
}

/** Cuboid of uniform magnetisation. */
export interface BlockSource {
  readonly kind: "block";
  readonly center_m: Vector3;
  /** Edge lengths along `edges`. */
  readonly size_m: Vector3;
  /** Three unit vectors of a right-handed frame; the scanner's axes when absent. */
  readonly edges?: readonly [Vector3, Vector3, Vector3] | undefined;
  /** mu0*M, T, in scanner axes. */
  readonly remanence_T: Vector3;
}

/** Sector of a ring with uniform magnetisation; a full turn is a ring. */
export interface RingSectorSource {
  readonly kind: "ring-sector";
  readonly center_m: Vector3;
  /** Unit vector. */
  readonly axis: Vector3;
  /** Unit vector across `axis`, at angle 0; angles turn right-handed about `axis`. */
  readonly reference: Vector3;
  readonly innerRadius_m: number;
  readonly outerRadius_m: number;
  readonly length_m: number;
  readonly fromAngle_rad: number;
  readonly toAngle_rad: number;
  /** mu0*M, T, in scanner axes. */
  readonly remanence_T: Vector3;
}

export type CurrentSource = LoopSource | CoilStackSource | SegmentSource | RectangleSource;
export type MagnetSource = BlockSource | RingSectorSource;
export type FieldSource = CurrentSource | MagnetSource;

/**
 * A field of any origin: mu0*H at points, T; inside a magnet B = mu0*(H + M).
 * @param points_m  [n, 3] row-major; @returns [n, 3], in `out` when it is given
 */
export type FieldFunction = (points_m: Float64Array, out?: Float64Array) => Float64Array;
