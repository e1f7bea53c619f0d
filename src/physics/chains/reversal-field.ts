import { FerruleError } from "../../errors.js";
import { type RandomStream, type Steps, stream } from "../../numerics/index.js";
import { chainFields, type MacrospinChain } from "./macrospin-chain.js";
import { macrospinSteps } from "./macrospin-steps.js";

/** At which field a chain turns over without thermal help, and how. */
export interface Reversal {
  /** Size of the opposing field, T; `undefined`: not up to the largest field tried. */
  readonly field_T: number | undefined;
  /** Moments along the old direction when their mean has fallen to one half, shape [spins]: who turns first. */
  readonly profile: Float64Array;
}

/**
 * Field at which a magnetised chain with its easy axes along itself reverses at absolute zero, found by trying.
 * The chain starts along +z; the field rises against it in a ramp and holds; then every spin is disturbed by 1e-3 rad.
 * Bisection between fields that turn it and fields that do not, to `accuracy` of the largest.
 *
 * @param chain  its temperature and damping are ignored: the motion is strongly damped (alpha = 4), so that it follows
 *               the energy surface
 * @param options.fieldAngle_rad  angle between the field and -z
 * @param options.largestField_T  where the search begins; must reverse the chain
 *
 * Valid for   a lower bound of nothing: heat turns real chains at smaller fields. A field that exceeds the true threshold
 *             by less than 1/500 of itself may not turn the chain in the time given, so that the result errs upwards.
 * Source      Landau-Lifshitz-Gilbert motion, `macrospinSteps`
 * Checked by  checks/chains (Stoner-Wohlfarth, two-sphere fanning, eigenvalues of the stiffness matrix)
 */
export function* reversalField(
  chain: MacrospinChain,
  {
    largestField_T,
    fieldAngle_rad = 0,
    accuracy = 1e-3,
  }: { largestField_T: number; fieldAngle_rad?: number; accuracy?: number },
): Steps<Reversal> {
  if (chain.easyAxes.kind === "random")
    throw new FerruleError("InvalidValue", {
      path: "easyAxes.kind",
      found: "random",
      accepted: '"none" or "along-chain": a start along the chain must be at rest',
    });
  let low = 0;
  let high = largestField_T;
  let profile = yield* tryField(chain, high, fieldAngle_rad);
  if (profile === undefined) return { field_T: undefined, profile: new Float64Array(0) };
  const rounds = Math.ceil(Math.log2(1 / accuracy));
  for (let round = 0; round < rounds; round++) {
    yield round / rounds;
    const middle = (low + high) / 2;
    const turned: Float64Array | undefined = yield* tryField(chain, middle, fieldAngle_rad);
    if (turned === undefined) low = middle;
    else {
      high = middle;
      profile = turned;
    }
  }
  return { field_T: high, profile };
}

/** Strong damping: the moments slide down the energy surface instead of circling over its passes. */
const damping = 4;

/** Steps of the field's rise, of the wait under the full field, and between looks at the chain. */
const [riseSteps, holdSteps, stepsPerLook] = [2000, 80_000, 8];

/** Ramp and hold at one field: the profile on the way over, or `undefined` when the chain comes to rest or time is up. */
function* tryField(chain: MacrospinChain, against_T: number, angle_rad: number): Steps<Float64Array | undefined> {
  const { spins } = chain;
  const fields = chainFields(chain);
  const scale_T = against_T + fields.anisotropyField_T + 4 * fields.dipoleField_T.reduce((a, b) => a + b);
  const block = {
    ...fields,
    spins,
    chains: 1,
    steps: stepsPerLook,
    state: Float64Array.from({ length: 3 * spins }, (_, k) => (k < 2 * spins ? 0 : 1)),
    easyAxis: Float64Array.from({ length: 3 * spins }, (_, k) => (k < 2 * spins ? 0 : 1)),
    fieldDirection: Float64Array.of(Math.sin(angle_rad), 0, -Math.cos(angle_rad)),
    thermalField_T: 0,
    noise: new Float64Array(0),
    // No spin turns by more than 0.2 rad in a step.
    precession_per_T: 0.2 / (Math.sqrt(1 + damping * damping) * scale_T),
    damping,
  };
  let profile: Float64Array | undefined;
  const disorder = stream(1);
  for (let done = 0; done < riseSteps + holdSteps; done += stepsPerLook) {
    const field_T = Float64Array.from(
      { length: stepsPerLook + 1 },
      (_, k) => against_T * Math.min(1, (done + k) / riseSteps),
    );
    // Disorder put in earlier would have died away while the field was still too small.
    if (done === riseSteps) disturb(block.state, disorder);
    const before = block.state.slice();
    macrospinSteps({ ...block, field_T });
    const along = block.state.subarray(2 * spins);
    const mean = along.reduce((a, b) => a + b) / spins;
    if (mean < 0.5) profile ??= along.slice();
    if (mean < 0) return profile;
    if (done > riseSteps && isAtRest(block.state, before)) return undefined;
    if (done % 8000 === 0) yield done / (riseSteps + holdSteps);
  }
  return undefined;
}

/** Turns each spin by about 1e-3 rad in a direction of its own, so that every way of reversing is open. */
function disturb(state: Float64Array, random: RandomStream): void {
  const spins = state.length / 3;
  for (let x = 0, y = spins, z = 2 * spins; x < spins; x++, y++, z++) {
    for (const k of [x, y, z]) state[k] += 1e-3 * random.normal();
    const length = Math.hypot(state[x], state[y], state[z]);
    for (const k of [x, y, z]) state[k] /= length;
  }
}

/** What is left of the disorder no longer grows: nothing above 1e-12 rad moves. */
function isAtRest(state: Float64Array, before: Float64Array): boolean {
  return state.every((value, k) => Math.abs(value - before[k]) < 1e-12);
}
