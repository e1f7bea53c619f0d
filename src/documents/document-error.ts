import { describePlace, type ErrorCode, type ErrorPlace, FerruleError } from "../errors.js";

/** One thing wrong with a document: where, what stood there, what is accepted. */
export interface DocumentProblem extends ErrorPlace {
  readonly code: ErrorCode;
  readonly found: string;
  readonly accepted: string;
}

/** A person mends ten problems at a time; the count of the rest is still told. */
const shownProblems = 10;

/**
 * A document that cannot be used, with everything that is wrong with it. The error itself tells the first problem;
 * `problems` lists up to ten in reading order, `problemCount` says how many there are.
 */
export class DocumentError extends FerruleError {
  readonly problems: readonly DocumentProblem[];
  readonly problemCount: number;

  constructor(problems: readonly DocumentProblem[], problemCount = problems.length) {
    const [{ code, ...first }] = problems as readonly [DocumentProblem, ...DocumentProblem[]];
    // A sound document that a scanner cannot run is no invalid one.
    super(code === "NotExecutable" ? code : "InvalidDocument", first);
    this.name = "DocumentError";
    this.problems = problems.slice(0, shownProblems);
    this.problemCount = problemCount;
    this.message = [this.message, ...restLines(this.problems, problemCount)].join("\n");
  }

  override at(place: ErrorPlace): DocumentError {
    return new DocumentError(
      this.problems.map((problem) => ({ ...place, ...problem })),
      this.problemCount,
    );
  }
}

function restLines(problems: readonly DocumentProblem[], count: number): string[] {
  const told = problems
    .slice(1)
    .map((problem) => `${describePlace(problem)}found ${problem.found}; accepted: ${problem.accepted}`);
  return count > problems.length ? [...told, `and ${count - problems.length} more`] : told;
}
