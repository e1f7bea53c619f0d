import { animalDoses, subjectLimits, typicalBody } from "../../src/safety/index.js";

/** Limits as they come out of the entry point for a torso driven along z, T peak to peak. */
export function lineLimits(frequency_Hz: number) {
  const drives = [{ axis: "z", amplitude_T: 3e-3, frequency_Hz } as const];
  const lines = subjectLimits({ body: typicalBody("human-torso"), drives, shifts: [] });
  const limitOf = (part: RegExp): number => {
    const line = lines.find(({ source, kind }) => kind === "appliedField" && part.test(source));
    return line?.limit ?? Number.NaN;
  };
  return {
    normal: limitOf(/normal mode \(80 %\)$/),
    firstLevel: limitOf(/first level \(100 %\)$/),
    strictest: limitOf(/whole rise/),
    departure: limitOf(/measured departure/),
  };
}

export function publishedDose_mg_per_kg(species: "mouse" | "rat" | "rabbit"): number {
  return 1e6 * (animalDoses.find((row) => row.species === species)?.dose_kg_per_kg ?? Number.NaN);
}
