// Two doubles side by side. Lane by lane these are the scalar operations of IEEE 754, so that a lane of a twin holds the
// bits of the definition as long as the order of the operations is kept.

// @ts-ignore: decorator
@inline export function add(a: v128, b: v128): v128 {
  return v128.add<f64>(a, b);
}
// @ts-ignore: decorator
@inline export function sub(a: v128, b: v128): v128 {
  return v128.sub<f64>(a, b);
}
// @ts-ignore: decorator
@inline export function mul(a: v128, b: v128): v128 {
  return v128.mul<f64>(a, b);
}
// @ts-ignore: decorator
@inline export function div(a: v128, b: v128): v128 {
  return v128.div<f64>(a, b);
}
// @ts-ignore: decorator
@inline export function root(a: v128): v128 {
  return v128.sqrt<f64>(a);
}
// @ts-ignore: decorator
@inline export function both(value: f64): v128 {
  return v128.splat<f64>(value);
}

/** Writes the lanes that belong to somebody: two, or only the first at the odd end of a row. */
// @ts-ignore: decorator
@inline export function storeLanes(at: usize, value: v128, lanes: i32): void {
  if (lanes == 2) v128.store(at, value);
  else v128.store_lane<f64>(at, value, 0);
}
