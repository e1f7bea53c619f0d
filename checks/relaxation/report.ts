import {
  brownianErrors,
  eigenvalueErrors,
  neelErrors,
  staticErrors,
  staticHarmonicErrors,
  threeModels,
  timeLawDeviations,
  truth,
  type WaveformError,
} from "./compare.js";

/** The meter: `npx tsx checks/relaxation/report.ts` prints every error against the general solvers. */
function waveforms(title: string, rows: readonly WaveformError[]): void {
  console.log(`\n${title}: error of harmonics 1-31, of samples, our estimate, steps, moments`);
  for (const { name, harmonic, sample, result } of rows) {
    const { errorEstimate, steps, moments } = result.detail;
    const numbers = [harmonic, sample, errorEstimate].map((value) => value.toExponential(1)).join("  ");
    console.log(`  ${name.padEnd(44)} ${numbers}  ${steps}  ${moments}  ${result.outcome}`);
  }
  summary(rows.map(({ harmonic }) => harmonic));
}

function list(title: string, rows: readonly { name: string; error: number }[]): void {
  console.log(`\n${title}`);
  for (const { name, error } of rows) console.log(`  ${name.padEnd(34)} ${error.toExponential(1)}`);
  summary(rows.map(({ error }) => error));
}

function summary(errors: readonly number[]): void {
  const sorted = [...errors].sort((a, b) => a - b);
  const middle = sorted[Math.floor(sorted.length / 2)];
  console.log(
    `  n ${sorted.length}, median ${middle.toExponential(1)}, worst ${sorted[sorted.length - 1].toExponential(1)}`,
  );
}

console.log(`truth: LSODA against Radau ${truth.brownianRadauAgainstLsoda.toExponential(1)}`);
waveforms("Brownian, default tolerance", brownianErrors());
waveforms("Brownian, tolerance 1e-10", brownianErrors({ tolerance: 1e-10 }));
waveforms("Neel, default tolerances", neelErrors());
list("static curves of fixed axes, absolute", staticErrors());
list("exact Neel time, relative", eigenvalueErrors());
list("quasi-static harmonics, absolute", staticHarmonicErrors());

console.log("\neffective-field times against the exact area under the decay");
for (const { name, deviation } of timeLawDeviations())
  console.log(`  ${name.padEnd(20)} ${(100 * deviation).toFixed(2)} %`);

console.log("\nmodels against the Fokker-Planck equation: amplitude ratio and phase difference (deg)");
for (const [xi, omegaTau] of [
  [1, 1],
  [5, 0.1],
  [5, 1],
  [20, 1],
])
  for (const order of [1, 3]) {
    const { fokkerPlanck, ...others } = threeModels(xi, omegaTau, order);
    const texts = Object.entries(others).map(([name, { amplitude, phase_rad }]) => {
      const turn = ((((phase_rad - fokkerPlanck.phase_rad) * 180) / Math.PI + 540) % 360) - 180;
      return `${name} ${(amplitude / fokkerPlanck.amplitude).toFixed(3)} ${turn.toFixed(1)}`;
    });
    console.log(`  xi ${xi} w tau ${omegaTau} n ${order}: ${texts.join("; ")}`);
  }
