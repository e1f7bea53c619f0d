import { formatQuantity, type QuantityKind } from "../../../units/index.js";
import type { DocumentProblem } from "../../document-error.js";

/** Relative slack for comparing two numbers that were each written in decimal: not an allowance for the hardware. */
export const writtenTwice = 1e-9;

export function problem(path: string, found: string, accepted: string): DocumentProblem {
  return { code: "NotExecutable", path, found, accepted };
}

export function isSame(a: number, b: number): boolean {
  return Math.abs(a - b) <= writtenTwice * Math.max(Math.abs(a), Math.abs(b));
}

/** A need that must stay within what the hardware has; nothing is said about what is not known. */
export interface Need {
  readonly path: string;
  /** "a current of", "a mean power of" */
  readonly what: string;
  /** "in drive coil z" */
  readonly where: string;
  readonly kind: QuantityKind;
  readonly needed: number | null;
  readonly available: number | undefined;
}

export function unmetNeeds(needs: readonly Need[]): DocumentProblem[] {
  return needs.flatMap(({ path, what, where, kind, needed, available }) =>
    needed === null || available === undefined || needed <= available * (1 + writtenTwice)
      ? []
      : [problem(path, `${what} ${quantityText(needed, kind)} ${where}`, `at most ${quantityText(available, kind)}`)],
  );
}

/** Six digits, without the zeros that end them. */
export const quantityText = (value: number, kind: QuantityKind): string =>
  formatQuantity(value, kind, { digits: 6 }).replace(/\.(\d*?)0+(?=\D|$)/, (_, kept: string) =>
    kept === "" ? "" : `.${kept}`,
  );

export function millitesla(field_T: number): string {
  return `${Number((field_T * 1e3).toPrecision(6))} mT`;
}
