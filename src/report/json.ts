import type { BudgetLine, IronMassAnswer } from "../measure/index.js";
import { measuredFromSI } from "../units/index.js";
import { answerSentence, isJudged, unitOfAnswer } from "./answer-text.js";
import { caution, standingCautions } from "./cautions.js";
import { recordGaps } from "./record-gaps.js";
import type { StudyReportData } from "./study-report-data.js";

/** A mass in a unit that people read, and in SI. `null` where it is not known. */
export interface MassValue {
  readonly value: number | null;
  readonly unit: string;
  readonly of: "Fe";
  readonly value_kg: number | null;
}

const numberOrNull = (value: number): number | null => (Number.isFinite(value) ? value : null);

function mass(value_kg: number, unit: string): MassValue {
  if (!Number.isFinite(value_kg)) return { value: null, unit, of: "Fe", value_kg: null };
  // 15 digits: the unit's power of ten leaves no tail of rounding.
  const { value } = measuredFromSI(value_kg, 0, { kind: "mass", unit });
  return { value: Number(value.toPrecision(15)), unit, of: "Fe", value_kg };
}

/** JSON has no infinity: a contribution that rests on no small sample says so in words. */
const degrees = (nu: number): number | "infinite" | null =>
  nu === Number.POSITIVE_INFINITY ? "infinite" : numberOrNull(nu);

function budgetLine({ standardUncertainty, degreesOfFreedom, ...line }: BudgetLine, unit: string) {
  return { ...line, standardUncertainty: mass(standardUncertainty, unit), degreesOfFreedom: degrees(degreesOfFreedom) };
}

function answerObject(answer: IronMassAnswer) {
  const unit = unitOfAnswer(answer);
  const interval = ([low, high]: readonly [number, number]) => ({ low: mass(low, unit), high: mass(high, unit) });
  const judged = isJudged(answer);
  return {
    question: answer.question,
    region: answer.region,
    scan: answer.scan,
    sentence: answerSentence(answer),
    mass: mass(answer.value_kg, unit),
    standardUncertainty: mass(answer.standardUncertainty_kg, unit),
    interval95: judged ? interval(answer.interval95_kg) : null,
    precisionOnly: {
      standardUncertainty: mass(answer.precisionOnly.standardUncertainty_kg, unit),
      interval95: interval(answer.precisionOnly.interval95_kg),
    },
    effectiveDegreesOfFreedom: degrees(answer.effectiveDegreesOfFreedom),
    criticalLevel: mass(answer.criticalLevel_kg, unit),
    detectionLimit: mass(answer.detectionLimit_kg, unit),
    decision: judged ? answer.decision : "withheld",
    budget: answer.budget.map((line) => budgetLine(line, unit)),
    advisories: answer.advisories,
  };
}

/** The answers of a study for machines: everything the HTML report says in numbers, as JSON-ready plain data. */
export function answersDocument(data: StudyReportData) {
  const { study, calibration, regularisation, provenance, seeds, version } = data;
  return {
    schema: "urn:ferrule:answers:1",
    study: study.name,
    invented: study.invented,
    ...(study.notice === undefined ? {} : { notice: study.notice }),
    answers: data.answers.map(answerObject),
    ...(study.invented && data.truth !== undefined
      ? { knownBecauseInvented: data.truth.map(({ region, iron_kg }) => ({ region, mass: mass(iron_kg, "ug") })) }
      : {}),
    calibration: {
      slope: calibration.slope,
      intercept: mass(calibration.intercept_kg, "ug"),
      chiSquared: numberOrNull(calibration.chiSquared),
      degreesOfFreedom: calibration.degreesOfFreedom,
      stockRelativeUncertainty: calibration.stockRelativeUncertainty,
      range: calibration.range_kg.map((end) => mass(end, "ug")),
      vials: calibration.points.map((point, i) => ({
        label: point.label,
        iron: mass(point.iron_kg, "ug"),
        reading: mass(point.reading_kg, "ug"),
        residualInStandardDeviations: numberOrNull(calibration.normalisedResiduals[i]),
      })),
    },
    regularisation: {
      relativeWeight: regularisation.relativeWeight,
      outcome: regularisation.outcome,
      pilot: regularisation.pilot,
      frozen: regularisation.frozen,
    },
    advisories: data.advisories,
    notInTheRecord: recordGaps(data),
    provenance: { program: "ferrule", version, artifacts: provenance, seeds },
    standingCautions,
    caution,
  };
}

export type AnswersDocument = ReturnType<typeof answersDocument>;
