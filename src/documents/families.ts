import type { DocumentFamily } from "./document-family.js";
import { phantomFamily } from "./phantom/phantom-family.js";
import { protocolFamily } from "./protocol/protocol-family.js";
import { scannerFamily } from "./scanner/scanner-family.js";
import { studyFamily } from "./study/study-family.js";
import { sweepFamily } from "./sweep/sweep-family.js";
import { tracerFamily } from "./tracer/tracer-family.js";

/** Every kind of document, by name, in the order of the thread: tracer -> scanner -> scan -> answer. */
export const families = {
  tracer: tracerFamily,
  scanner: scannerFamily,
  protocol: protocolFamily,
  phantom: phantomFamily,
  study: studyFamily,
  sweep: sweepFamily,
} as const;

export type FamilyName = keyof typeof families;

export const familyNames = Object.keys(families) as readonly FamilyName[];

/** What people write. */
export type DocumentOf<Name extends FamilyName> =
  (typeof families)[Name] extends DocumentFamily<infer Document, infer _Model> ? Document : never;

/** The same in SI. */
export type ModelOf<Name extends FamilyName> =
  (typeof families)[Name] extends DocumentFamily<infer _Document, infer Model> ? Model : never;

export function isFamilyName(name: string): name is FamilyName {
  return Object.hasOwn(families, name);
}
