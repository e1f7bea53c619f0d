/** Front door of the numerics layer. Importing it loads no third-party package. */
export type { FourierPlan } from "./fft/plan.js";
export { fourierPlan } from "./fft/transform.js";
export { lagOneAutocorrelation } from "./fitting/autocorrelation.js";
export type { FloatingDirection } from "./fitting/covariance.js";
export type { FitOutcome } from "./fitting/fit-state.js";
export { fiellerInterval, type InversePrediction, predictInverse } from "./fitting/inverse-prediction.js";
export { type LeastSquaresResult, leastSquares } from "./fitting/least-squares.js";
export { fitLine, type LineFit } from "./fitting/linear-fit.js";
export { type NonNegativeResult, nonNegativeLeastSquares, nonNegativeQuadratic } from "./fitting/non-negative.js";
export type { LeastSquaresOptions, LeastSquaresProblem } from "./fitting/problem.js";
export { type RunsTest, runsTest } from "./fitting/runs-test.js";
export { type BatteryResult, operatorBattery } from "./linear/battery.js";
export { choleskyFactor, choleskyInverse, choleskySolve } from "./linear/cholesky.js";
export { compose, scaled, stack, sum } from "./linear/combine.js";
export { denseOperator } from "./linear/dense-operator.js";
export { diagonal } from "./linear/diagonal.js";
export { jacobiSvd, type SingularValues } from "./linear/jacobi-svd.js";
export { solveLeastSquares, svd } from "./linear/matrix-package.js";
export { normal } from "./linear/normal.js";
export { type LinearOperator, requireFits, requireSameSpace, type Space, sizeOf } from "./linear/operator.js";
export { solveSquare } from "./linear/solve-square.js";
export { gaussHermite } from "./quadrature/gauss-hermite.js";
export { type IntegralResult, integrate } from "./quadrature/gauss-kronrod.js";
export { gaussLegendre } from "./quadrature/gauss-legendre.js";
export type { QuadratureRule } from "./quadrature/rule.js";
export { type NormalKernel, type RandomStream, stream } from "./random/stream.js";
export { type NormalTables, normalTables } from "./random/ziggurat.js";
export { bracketRoot } from "./roots/bracket.js";
export { findRoot, type RootResult } from "./roots/brent.js";
export { findMinimum, type MinimumResult } from "./roots/minimise.js";
export { conjugateGradient } from "./solvers/conjugate-gradient.js";
export { type RunOptions, type RunResult, run, runInSlices } from "./solvers/run.js";
export type { Solver, SolverEnd, SolverOutcome, SolverStep } from "./solvers/solver.js";
export { finishInSlices, finishSteps, partOf, type Steps } from "./solvers/steps.js";
export {
  afterIterations,
  firstOf,
  residualAbove,
  residualBelow,
  type StoppingRule,
  stagnation,
} from "./solvers/stopping.js";
export { betaQuantile } from "./special/beta-quantile.js";
export { chiSquareCdf, chiSquareQuantile } from "./special/chi-square.js";
export { cel, ellipticE, ellipticK, ellipticKE } from "./special/elliptic.js";
export { erf, erfc } from "./special/erf.js";
export { incompleteBeta } from "./special/incomplete-beta.js";
export { incompleteGamma } from "./special/incomplete-gamma.js";
export { logGamma } from "./special/log-gamma.js";
export { normalCdf, normalPdf, normalQuantile } from "./special/normal.js";
export { studentTCdf, studentTQuantile } from "./special/student-t.js";
