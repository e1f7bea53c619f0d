const zero = 0x30;
/** 10^k is exact in double precision up to k = 22, an integer up to 15 digits is too: one rounding, the right one. */
const powers = Float64Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));
const exactDigits = 15;

/** Offset after a run of digits. */
function skipDigits(bytes: Uint8Array, from: number, end: number): number {
  let i = from;
  while (i < end && bytes[i] >= zero && bytes[i] <= 0x39) i++;
  return i;
}

function digitsValue(bytes: Uint8Array, from: number, end: number, start = 0): number {
  let value = start;
  for (let i = from; i < end; i++) value = 10 * value + (bytes[i] - zero);
  return value;
}

const isSign = (byte: number): boolean => byte === 0x2d || byte === 0x2b;

/** The exponent from its letter (e, E, d, D) to the end, or NaN. */
function exponentValue(bytes: Uint8Array, letter: number, end: number): number {
  if ((bytes[letter] | 0x21) !== 0x65) return Number.NaN; // true of these four letters alone
  const digits = isSign(bytes[letter + 1]) ? letter + 2 : letter + 1;
  if (digits >= end || end - digits > 3 || skipDigits(bytes, digits, end) !== end) return Number.NaN;
  const value = digitsValue(bytes, digits, end);
  return bytes[letter + 1] === 0x2d ? -value : value;
}

/**
 * A plain decimal number (`-12.5`, `1.2E-05`, `1d3`) straight from its bytes, or NaN for everything that needs a
 * closer look: words, blanks, quotes, more than 15 digits, large exponents. Never differs from `Number(text)`.
 *
 * @param mark  byte of the decimal mark
 *
 * Source      W. D. Clinger, How to read floating point numbers accurately, 1990 (the exact case; from memory)
 * Checked by  fast-number.test.ts (Number, on random texts)
 */
export function fastNumber(bytes: Uint8Array, start: number, { end, mark }: { end: number; mark: number }): number {
  const isNegative = bytes[start] === 0x2d;
  const whole = isNegative || bytes[start] === 0x2b ? start + 1 : start;
  const point = skipDigits(bytes, whole, end);
  const fraction = point < end && bytes[point] === mark ? point + 1 : point;
  const tail = skipDigits(bytes, fraction, end);
  const digits = point - whole + (tail - fraction);
  if (digits === 0 || digits > exactDigits) return Number.NaN;
  const mantissa = digitsValue(bytes, fraction, tail, digitsValue(bytes, whole, point));
  const exponent = (tail === end ? 0 : exponentValue(bytes, tail, end)) - (tail - fraction);
  if (!(exponent >= -22 && exponent <= 22)) return Number.NaN;
  const value = exponent < 0 ? mantissa / powers[-exponent] : mantissa * powers[exponent];
  return isNegative ? -value : value;
}
