import type { JsonObject } from "./json/json-value.js";
import { schemaUrn } from "./schema-urn.js";

/** One step of a document family, from version `from` to `from + 1`. Published steps are never changed. */
export interface Migration {
  readonly from: number;
  /** What changed, in the words of someone who writes such documents. */
  readonly change: string;
  readonly migrate: (document: JsonObject) => MigrationStep;
}

export type MigrationStep =
  | { readonly kind: "done"; readonly document: JsonObject }
  | { readonly kind: "refused"; readonly found: string; readonly accepted: string };

/** Why a document could not be brought to the current version. */
export type MigrationFailure = "newer-than-known" | "missing-step" | "not-convertible";

export type MigrationOutcome =
  | { readonly kind: "current"; readonly document: JsonObject }
  | { readonly kind: "migrated"; readonly document: JsonObject; readonly changes: readonly string[] }
  | {
      readonly kind: "failed";
      readonly reason: MigrationFailure;
      /** The version at which it stopped. */
      readonly version: number;
      readonly found: string;
      readonly accepted: string;
    };

/** What the machinery needs to know of a family. */
export interface VersionedFamily {
  readonly name: string;
  readonly version: number;
  readonly migrations: readonly Migration[];
}

/** Brings a document of a known family from the version it was written in to the current one, step by step. */
export function migrate(family: VersionedFamily, document: JsonObject, fromVersion: number): MigrationOutcome {
  if (fromVersion === family.version) return { kind: "current", document };
  if (fromVersion > family.version) return newerThanKnown(family, fromVersion);
  let current = document;
  const changes: string[] = [];
  for (let version = fromVersion; version < family.version; version++) {
    const migration = family.migrations.find(({ from }) => from === version);
    if (migration === undefined) return missingStep(family, version);
    const step = migration.migrate(current);
    if (step.kind === "refused")
      return { kind: "failed", reason: "not-convertible", version, found: step.found, accepted: step.accepted };
    current = { ...step.document, schema: schemaUrn(family.name, version + 1) };
    changes.push(migration.change);
  }
  return { kind: "migrated", document: current, changes };
}

function newerThanKnown({ name, version }: VersionedFamily, fromVersion: number): MigrationOutcome {
  return {
    kind: "failed",
    reason: "newer-than-known",
    version: fromVersion,
    found: `version ${fromVersion} of a ${name} document, written by a newer program`,
    accepted: `up to version ${version}, "${schemaUrn(name, version)}"; a newer release of this program reads it`,
  };
}

function missingStep({ name }: VersionedFamily, version: number): MigrationOutcome {
  return {
    kind: "failed",
    reason: "missing-step",
    version,
    found: `version ${version} of a ${name} document`,
    accepted: `a version that can still be converted; none leads from ${version} to ${version + 1}`,
  };
}
