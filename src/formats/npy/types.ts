/** Element types of NPY files that we read and write: little-endian, by their NumPy spelling. */
export const npyTypes = ["<f8", "<f4", "<i4", "<i8", "|u1", "|b1"] as const;
export type NpyType = (typeof npyTypes)[number];

export const isNpyType = (text: string): text is NpyType => (npyTypes as readonly string[]).includes(text);

export const bytesPerElement: Readonly<Record<NpyType, number>> = {
  "<f8": 8,
  "<f4": 4,
  "<i4": 4,
  "<i8": 8,
  "|u1": 1,
  "|b1": 1,
};

/** An array as plain data; `type` tells which typed array `data` is. Booleans are 0 and 1 in bytes. */
export type NpyArray =
  | { readonly type: "<f8"; readonly shape: readonly number[]; readonly data: Float64Array }
  | { readonly type: "<f4"; readonly shape: readonly number[]; readonly data: Float32Array }
  | { readonly type: "<i4"; readonly shape: readonly number[]; readonly data: Int32Array }
  | { readonly type: "<i8"; readonly shape: readonly number[]; readonly data: BigInt64Array }
  | { readonly type: "|u1" | "|b1"; readonly shape: readonly number[]; readonly data: Uint8Array };

export const countOf = (shape: readonly number[]): number => shape.reduce((product, count) => product * count, 1);
