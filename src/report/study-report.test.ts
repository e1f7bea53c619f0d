import { parseHTML } from "linkedom";
import { describe, expect, it } from "vitest";
import type { GridMap } from "../imaging/index.js";
import { answerIronMass, calibrationLine, type RegionReading } from "../measure/index.js";
import { answersDocument, type StudyReportData, studyReportFigures, studyReportHtml } from "./index.js";

/** Everything here is invented: four blobs on a grid, readings made from round masses. */
const names = ["sphere A", '<script>alert("1")</script>', `a ${"very ".repeat(30)}long name`, "empty & place"];
const truths_kg = [20e-9, 10e-9, 5e-9, 0];
const centres_mm = [
  [0, 0.5, -7.5],
  [1.5, -1, -2.5],
  [-1.5, 1, 2.5],
  [-2, -2, -5],
];
const grid = {
  shape: [45, 9, 9] as const,
  spacing_m: [1.25e-3, 1.25e-3, 0.5e-3] as const,
  origin_m: [-5e-3, -5e-3, -11e-3] as const,
};

function blobs(): Float64Array {
  const values = new Float64Array(45 * 81);
  for (let i = 0; i < values.length; i++) {
    const index = [i % 9, Math.floor(i / 9) % 9, Math.floor(i / 81)];
    const place = index.map((n, axis) => (grid.origin_m[axis] + n * grid.spacing_m[axis]) * 1e3);
    values[i] = 0.02 * Math.sin(7 * i);
    centres_mm.forEach((centre, k) => {
      const away2 = centre.reduce((sum, c, axis) => sum + (place[axis] - c) ** 2, 0);
      values[i] += truths_kg[k] * 5e7 * Math.exp(-away2 / 2);
    });
  }
  return values;
}

const vials = [2, 5, 10, 20, 40].map((ug, i) => ({
  label: `vial ${i + 1}`,
  reading_kg: (1.08 * ug + [0.1, -0.1, 0.05, 0.1, 0][i]) * 1e-9,
  readingUncertainty_kg: 0.11e-9,
  iron_kg: ug * 1e-9,
  ironUncertainty_kg: 0.01e-9 * ug,
}));
const calibration = calibrationLine(vials, { stockRelativeUncertainty: 0.02 });

const reading = (region: string, iron_kg: number): RegionReading => ({
  region,
  scan: "spheres",
  reading_kg: 1.08 * iron_kg - 0.2e-9,
  noise_kg: 0.1e-9,
  noiseDegreesOfFreedom: 1e4,
  drift_kg: 0.01e-9,
  driftDegreesOfFreedom: 14,
  ownWidthPerKg: 0.02,
  neighbourWidth_kg: 0.01e-9,
  calibrationWidthPerKg: 0.015,
  shapePerKg: 0.04,
  contourPerKg: 0.03,
  positionPerKg: 0.01,
  neighbours_kg: 0.1e-9,
});

const values = blobs();
const maps = {
  iron: { kind: "iron", unit: "kg/m3", grid, values, standardUncertainty: values.map(() => 0.015) },
  signal: { kind: "signal", unit: "A.m2/T", grid, values: values.map((v) => v * 1e-4) },
} satisfies Record<string, GridMap>;

const sample: StudyReportData = {
  study: {
    name: "Blobs <b>&</b> more",
    description: "How much is in each?",
    invented: true,
    notice: "All of it is made up.",
  },
  tracers: [
    {
      name: "Fitted",
      role: "used",
      coreSizes: "median 21.3 nm by number, log-sd 0.2",
      momentPerIron_A_m2_per_kg: 96,
      staticWidth_T: 5.1e-3,
      staticWidthAlong_m: 0.73e-3,
      staticWidthAcross_m: [3.3e-3, Number.NaN],
    },
  ],
  scanner: {
    name: "Point scanner",
    gradient_T_per_m: [-3.5, -3.5, 7],
    driveAxis: "z",
    sensitivity_T_per_A: 31.4e-6,
    noise_V_per_sqrtHz: 1.5e-9,
  },
  protocol: {
    name: "Small raster",
    amplitude_T: 0.02,
    frequency_Hz: 25e3,
    scanTime_s: 29.4,
    patches: 2250,
    fieldOfView_m: [0.0175, 0.0175, 0.0252],
  },
  scans: [
    { name: "spheres", role: "object", measuredNoise_V: 1.2e-7, blocksOfEmpties: 16, residualNorm_relative: 0.0525 },
  ],
  answers: names.map((name, i) => answerIronMass(reading(name, truths_kg[i]), calibration)),
  truth: names.map((region, i) => ({ region, iron_kg: truths_kg[i] })),
  calibration,
  regularisation: {
    relativeWeight: 0.0167,
    outcome: "met",
    target2: 8.9e-12,
    trials: [1, 0.1, 0.01].map((relativeWeight, i) => ({ relativeWeight, residual2: [15e-12, 9.7e-12, 8.6e-12][i] })),
    pilot: "pilot",
    frozen: true,
  },
  maps,
  regions: names.map((label, i) => ({
    label,
    shape: {
      kind: "sphere",
      center_m: centres_mm[i].map((c) => c * 1e-3) as [number, number, number],
      diameter_m: 3e-3,
    },
  })),
  provenance: [
    { node: "answers", method: "iron-mass", methodVersion: 1, key: "a1".repeat(32), digest: "b2".repeat(32) },
  ],
  seeds: [{ scan: "spheres", seed: 1 }],
  version: "0.0.0-test",
  advisories: ["relaxation is not modelled"],
};
const figures = await studyReportFigures(sample);
const html = studyReportHtml(sample, figures);
const { document } = parseHTML(html);
const text = document.querySelector("main")!.textContent!.replace(/\s+/g, " ");

/** Elements left open or closed out of order; void elements and `/>` close themselves. */
function unbalanced(source: string): string[] {
  const open: string[] = [];
  const wrong: string[] = [];
  const body = source.replace(/<style>[\s\S]*?<\/style>/g, "");
  for (const [, close, name, self] of body.matchAll(/<(\/?)([a-zA-Z][\w-]*)(?:"[^"]*"|'[^']*'|[^'">])*?(\/?)>/g)) {
    if (close === "" && self === "" && !["meta", "br", "hr", "img", "link"].includes(name)) open.push(name);
    if (close !== "" && open.pop() !== name) wrong.push(name);
  }
  return [...wrong, ...open];
}

describe("studyReportHtml", () => {
  it("is balanced, needs nothing from elsewhere and runs nothing", () => {
    expect(unbalanced(html)).toEqual([]);
    expect(html.match(/<script|<link|<img|<iframe|@import|url\(/i)).toBeNull();
    expect(html.replaceAll(/xmlns(:\w+)?="[^"]*"/g, "").match(/https?:|\/\//)).toBeNull();
    expect(document.querySelector("html")!.getAttribute("lang")).toBe("en");
  });
  it("prints no number that is none, and no value that is missing", () => {
    expect(html.match(/NaN|undefined|Infinity|\[object|\bnull\b/)).toBeNull();
    expect(text).toContain("3.30 mm and not known");
  });
  it("writes names as they are, harmless", () => {
    expect(text).toContain('<script>alert("1")</script> holds');
    expect(text).toContain(names[2]);
    expect(document.querySelector("h1")!.textContent).toBe("Blobs <b>&</b> more");
    expect(document.querySelectorAll("script, h1 b")).toHaveLength(0);
  });
  it("has one sentence for every answer, with the decision, and what was put in", () => {
    const answers = [...document.querySelectorAll(".answer")].map((each) => each.textContent!);
    expect(answers).toHaveLength(4);
    const { value_kg, standardUncertainty_kg: u, interval95_kg, criticalLevel_kg } = sample.answers[0];
    // Its uncertainty is about 1 µg: two digits of it are one decimal.
    const [value, sd, low, high] = [value_kg, u, ...interval95_kg].map((kg) => (kg * 1e9).toFixed(1));
    const critical = (criticalLevel_kg * 1e9).toFixed(2);
    expect(answers[0]).toContain(
      `sphere A holds ${value} ± ${sd} µg Fe (95 % ${low} to ${high} µg Fe); detected (critical level ${critical} µg Fe).`,
    );
    expect(answers[0]).toContain("Put in: 20 \u00b5g Fe (known because invented)");
    expect(answers[3]).toContain("no iron detected");
    expect(answers[3]).toMatch(/not above the critical level 2\d0 ng Fe/);
    expect(answers[0]).toContain("Largest part of the uncertainty: shape");
  });
  it("carries banner, cautions, gaps, digests, seeds and every vial's judgement", () => {
    for (const words of [
      "Invented data. All of it is made up.",
      "relaxation is not modelled",
      "about 5 are called detected",
      "not a medical device",
      "ethics approval and licensed practice decide",
      "residue in the syringe",
      "b2".repeat(32),
      "spheres: 1",
      "within 2 sd",
      "is frozen",
    ])
      expect(text).toContain(words);
    expect(document.querySelector("[role=note]")).not.toBeNull();
    const headings = [...document.querySelectorAll("h2")].map((each) => each.textContent);
    expect(headings.at(-1)).toBe("Cautions");
  });
  it("names every picture, heads every table and skips no level of heading", () => {
    const drawings = [...document.querySelectorAll("figure > svg")];
    expect(drawings).toHaveLength(Object.keys(figures).length);
    for (const svg of drawings) expect(svg.getAttribute("aria-label")!.length).toBeGreaterThan(10);
    for (const th of document.querySelectorAll("th")) expect(["col", "row"]).toContain(th.getAttribute("scope"));
    const levels = [...document.querySelectorAll("h1, h2, h3, h4")].map(({ tagName }) => Number(tagName[1]));
    for (const [i, level] of levels.slice(1).entries()) expect(level - levels[i]).toBeLessThanOrEqual(1);
    const ids = [...document.querySelectorAll("[id]")].map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });
  it("shows nothing as put in, and no banner, for a study that is not invented", async () => {
    const measured = { ...sample, study: { ...sample.study, invented: false } };
    const page = studyReportHtml(measured, await studyReportFigures(measured));
    expect(page.match(/put in|known because invented|Invented data/i)).toBeNull();
  });
  it("withholds interval and decision where part of the uncertainty is not known", async () => {
    const blind = answerIronMass({ ...reading("A", 20e-9), drift_kg: Number.NaN }, calibration);
    const study = { ...sample, answers: [blind] };
    const page = studyReportHtml(study, await studyReportFigures(study));
    expect(page).toContain("interval and decision withheld");
    expect(page).toContain("Not known: background drift.");
    expect(page).toContain("Largest known part of the uncertainty: shape");
    expect(page).toContain("fewer than three blocks of empties");
    expect(page.match(/NaN|A: no iron detected/)).toBeNull();
    expect(answersDocument(study).answers[0]).toMatchObject({ decision: "withheld", interval95: null });
  });
});

describe("studyReportFigures", () => {
  it("label invented data, in every picture but the budget's bars", () => {
    for (const [name, { svg }] of Object.entries(figures)) {
      if (name !== "budget") expect(svg).toContain("Invented data");
      expect(svg.match(/NaN|undefined|Infinity|<script/)).toBeNull();
    }
    expect(figures.signalMap.svg).toContain("Signal map: shows, does not measure");
  });
});

describe("answersDocument", () => {
  const answers = JSON.parse(JSON.stringify(answersDocument(sample)));

  it("says what it is and holds everything that the page says in numbers", () => {
    expect(answers.schema).toBe("urn:ferrule:answers:1");
    expect(answers.caution).toContain("not a medical device");
    expect(answers.invented).toBe(true);
    expect(answers.provenance.artifacts[0].digest).toBe("b2".repeat(32));
    expect(answers.knownBecauseInvented).toHaveLength(4);
    expect(answersDocument({ ...sample, study: { ...sample.study, invented: false } })).not.toHaveProperty(
      "knownBecauseInvented",
    );
  });
  it("gives masses twice, in a readable unit and in kg, and the two agree", () => {
    const factors: Record<string, number> = { ug: 1e-9, ng: 1e-12, mg: 1e-6 };
    for (const { mass, interval95, criticalLevel, budget } of answers.answers) {
      const all = [
        mass,
        interval95.low,
        interval95.high,
        criticalLevel,
        ...budget.map((line: { standardUncertainty: object }) => line.standardUncertainty),
      ];
      for (const { value, unit, value_kg, of } of all) {
        expect(of).toBe("Fe");
        // 1e-14: the readable value keeps 15 digits
        expect(Math.abs(value * factors[unit] - value_kg)).toBeLessThanOrEqual(1e-14 * Math.abs(value_kg));
      }
    }
  });
  it("survives JSON: infinite degrees of freedom are a word, names are whole", () => {
    const lines = answers.answers[0].budget as { name: string; degreesOfFreedom: unknown }[];
    expect(lines.find(({ name }) => name === "stock assay")!.degreesOfFreedom).toBe("infinite");
    expect(lines.find(({ name }) => name === "noise")!.degreesOfFreedom).toBe(1e4);
    expect(answers.answers[1].region).toBe(names[1]);
    expect(answers.answers.map(({ decision }: { decision: string }) => decision)).toEqual([
      "detected",
      "detected",
      "detected",
      "not detected",
    ]);
  });
});
