import { afterAll, describe, expect, it } from "vitest";
import {
  cosineDrive,
  type DrivenTracer,
  periodicResponse,
  type Relaxation,
  responseParts,
} from "../../physics/index.js";
import { WorkerPool } from "../pool.js";
import { tracerResponse } from "./tracer-response.js";

const ensemble = {
  sizes: { kind: "lognormal", weighting: "number", medianDiameter_m: 16e-9, logSd: 0.1 },
  saturation_A_per_m: 446e3,
  temperature_K: 300,
} as const;
const drive = { kind: "cosine", amplitude_T: 0.01, frequency_Hz: 25e3 } as const;
const samples = 64;

const relaxations: readonly Relaxation[] = [
  { kind: "debye", time_s: 1e-6 },
  { kind: "field-dependent", zeroFieldTime_s: 1e-6, law: "peak" },
  { kind: "brownian", viscosity_Pa_s: 1e-3, hydrodynamic: { kind: "median", diameter_m: 30e-9, logSd: 0 } },
  { kind: "neel", anisotropy_J_per_m3: 3e3, damping: 0.1, easyAxes: "parallel" },
];

const pool = WorkerPool.open({ workers: 2 });
afterAll(async () => (await pool).close());

describe("tracer-response on the pool", () => {
  it.each(relaxations)(
    "gives the bits of periodicResponse: $kind",
    async (relaxation) => {
      const tracer: DrivenTracer = { ensemble, relaxation };
      const here = periodicResponse(cosineDrive(0.01, 25e3), tracer, { samples });
      expect(await (await pool).run(tracerResponse, { drive, tracer, samples })).toEqual(here);
    },
    120_000,
  );

  it("is cut by the tracer alone, with weights that sum to 1", () => {
    for (const relaxation of relaxations) {
      const parts = responseParts({ ensemble, relaxation });
      expect(parts.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
    }
    const random = { kind: "neel", anisotropy_J_per_m3: 3e3, damping: 0.1, easyAxes: "random" } as const;
    expect(responseParts({ ensemble, relaxation: random })).toHaveLength(30);
  });

  it("cuts a tracer once, into the parts of the method: share, count and combination see the same ones", () => {
    for (const relaxation of relaxations) {
      const tracer: DrivenTracer = { ensemble, relaxation };
      const expected = responseParts(tracer);
      const argument = { drive, tracer, samples };
      expect(tracerResponse.chunks(argument)).toBe(expected.length);
      const parts = expected.map((_, chunk) => tracerResponse.share(argument, chunk).part);
      expect(parts).toEqual(expected);
      expect(parts.map((part, chunk) => part === tracerResponse.share(argument, chunk).part)).toEqual(
        expected.map(() => true),
      );
    }
  });
});
