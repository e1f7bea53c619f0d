import { describe, expect, it } from "vitest";
import { type Migration, migrate, type VersionedFamily } from "./migrations.js";

/** A family that exists only here: 1 -> 2 renames a field, 2 -> 3 cannot convert every document. */
const rename: Migration = {
  from: 1,
  change: '"width" is now "diameter"',
  migrate: ({ width, ...rest }) => ({ kind: "done", document: { ...rest, diameter: width } }),
};
const split: Migration = {
  from: 2,
  change: '"diameter" is now a list',
  migrate: (document) =>
    typeof document.diameter === "string"
      ? { kind: "done", document: { ...document, diameter: [document.diameter] } }
      : { kind: "refused", found: "a document without diameter", accepted: '"diameter", e.g. "2 mm"' },
};
const vial: VersionedFamily = { name: "vial", version: 3, migrations: [split, rename] };

describe("migrate", () => {
  it("takes every step in turn and says what changed", () => {
    const old = { schema: "urn:ferrule:vial:1", width: "2 mm" };
    expect(migrate(vial, old, 1)).toEqual({
      kind: "migrated",
      document: { schema: "urn:ferrule:vial:3", diameter: ["2 mm"] },
      changes: ['"width" is now "diameter"', '"diameter" is now a list'],
    });
    expect(old, "the old document is left as it was").toEqual({ schema: "urn:ferrule:vial:1", width: "2 mm" });
  });

  it("starts where the document stands", () => {
    const outcome = migrate(vial, { schema: "urn:ferrule:vial:2", diameter: "2 mm" }, 2);
    expect(outcome).toMatchObject({ kind: "migrated", changes: ['"diameter" is now a list'] });
  });

  it("returns a current document itself", () => {
    const document = { schema: "urn:ferrule:vial:3" };
    const outcome = migrate(vial, document, 3);
    expect(outcome.kind).toBe("current");
    expect(outcome.kind === "current" && outcome.document).toBe(document);
  });

  it("names the reason when it cannot", () => {
    expect(migrate(vial, {}, 4)).toMatchObject({ kind: "failed", reason: "newer-than-known", version: 4 });
    expect(migrate({ ...vial, migrations: [rename] }, {}, 1)).toMatchObject({ reason: "missing-step", version: 2 });
    expect(migrate(vial, { width: 3 }, 1)).toMatchObject({
      reason: "not-convertible",
      version: 2,
      found: "a document without diameter",
    });
  });
});
