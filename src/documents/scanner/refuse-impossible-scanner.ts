import type { z } from "zod";
import {
  clearanceFromAxis_m,
  contributionSum_T,
  type FieldFreeRegion,
  type FieldSource,
  fieldAtPoint,
} from "../../physics/index.js";
import { type Axis, axisIndex } from "../fields/axis-field.js";
import { refuse } from "../fields/refuse.js";
import type { DocumentPath } from "../json/document-path.js";
import type { ParsedCoil } from "./coil-field.js";
import { type Bore, boreOf, fieldFreeRegionOf, topologyOf } from "./real-selection.js";
import {
  fieldSourcesOf,
  type ParsedSelectionField,
  type ParsedSources,
  toSelectionSources,
} from "./selection-field.js";
import { refuseImpossibleField, type Topology } from "./selection-tensor.js";
import { mm, type ParsedWinding, toWinding } from "./winding-field.js";

type Sink = z.core.$RefinementCtx;

/** The part of a parsed scanner that these checks concern. */
interface ScannerParts {
  readonly boreDiameter: number;
  readonly boreLength?: number | undefined;
  readonly boreAxis?: Axis | undefined;
  readonly topology: Topology;
  readonly selectionField: ParsedSelectionField;
  readonly driveAxes: readonly {
    readonly axis: Axis;
    readonly frequency: number;
    readonly coil?: ParsedCoil | undefined;
  }[];
  readonly shiftFields: readonly { readonly axis: Axis; readonly coil?: ParsedCoil | undefined }[];
  readonly receive: readonly {
    readonly axis: Axis;
    readonly windings?: readonly ParsedWinding[] | undefined;
    readonly digitiser?: { readonly rate: number } | undefined;
  }[];
}

/** What cannot be built: coils inside the bore, a field without a field-free region in it, coils that make no field. */
export function refuseImpossibleScanner(scanner: ScannerParts, sink: Sink): void {
  const { selectionField, topology } = scanner;
  const bore = boreOf(scanner);
  const isClear = refuseSourcesInBore(scanner, bore, sink);
  if (selectionField.kind === "ideal") refuseImpossibleField({ tensor: selectionField.gradient, topology }, sink);
  else if (isClear) refuseLostRegion(selectionField, { bore, topology }, sink);
  if (isClear) refuseCoilsAcross(scanner, sink);
  refuseSlowDigitisers(scanner, sink);
}

interface Placed {
  readonly path: DocumentPath;
  readonly sources: readonly FieldSource[];
}

function refuseSourcesInBore(scanner: ScannerParts, { axis, radius_m }: Bore, sink: Sink): boolean {
  let isClear = true;
  for (const { path, sources } of placedSources(scanner)) {
    const clearance_m = Math.min(...sources.map((source) => clearanceFromAxis_m(source, axis)));
    // Two numbers written in decimal may describe the same surface.
    if (clearance_m >= radius_m * (1 - 1e-9)) continue;
    isClear = false;
    refuse(sink, path, {
      found: `a part that reaches to ${mm(Math.max(0, clearance_m))} from the bore's axis, inside its radius of ${mm(radius_m)}`,
      accepted: "coils and magnets outside the bore: boreDiameter is what stays free",
    });
  }
  return isClear;
}

function placedSources({ selectionField, driveAxes, shiftFields, receive }: ScannerParts): Placed[] {
  return [
    ...(selectionField.kind === "ideal" ? [] : placedSelection(selectionField)),
    ...driveAxes.flatMap(({ coil }, i) => placedWindings(coil?.windings, ["driveAxes", i, "coil"])),
    ...shiftFields.flatMap(({ coil }, i) => placedWindings(coil?.windings, ["shiftFields", i, "coil"])),
    ...receive.flatMap(({ windings }, i) => placedWindings(windings, ["receive", i])),
  ];
}

function placedSelection(field: ParsedSources): Placed[] {
  const { magnets } = toSelectionSources(field);
  return [
    ...(field.coils ?? []).flatMap(({ coil }, i) =>
      placedWindings(coil.windings, ["selectionField", "coils", i, "coil"]),
    ),
    ...magnets.map(({ sources }, i) => ({ path: ["selectionField", "magnets", i, "magnet"], sources })),
  ];
}

function placedWindings(windings: readonly ParsedWinding[] | undefined, path: DocumentPath): Placed[] {
  return (windings ?? []).map((winding, j) => ({
    path: [...path, "windings", j],
    sources: toWinding(winding).sources,
  }));
}

function refuseLostRegion(
  field: ParsedSources,
  { bore, topology }: { readonly bore: Bore; readonly topology: Topology },
  sink: Sink,
): void {
  const region = fieldFreeRegionOf(fieldSourcesOf(toSelectionSources(field)), bore);
  const actual = topologyOf(region);
  if (actual === undefined)
    refuse(sink, ["selectionField"], {
      found: lostRegionWords(region),
      accepted: "coils or magnets that oppose each other so that the field vanishes inside the bore",
    });
  else if (actual !== topology)
    refuse(sink, ["topology"], { found: `"${topology}" with the sources of a ${actual}`, accepted: `"${actual}"` });
}

function lostRegionWords({ kind, smallest }: FieldFreeRegion): string {
  if (kind === "no-field") return "sources that make no field at all inside the bore";
  if (kind === "degenerate")
    return "a field that vanishes together with its gradient: nothing to encode positions with";
  return `a field that is nowhere zero inside the bore: at least ${Number((smallest.field_T * 1e3).toPrecision(4))} mT, at ${placeText(smallest.position_m)}`;
}

const placeText = (place_m: readonly number[]): string =>
  `(${place_m.map((each) => mm(each).slice(1, -1)).join(", ")})`;

/** A drive, shift or receive coil must have a field along its own axis at the centre, above what its windings cancel. */
function refuseCoilsAcross({ driveAxes, shiftFields, receive }: ScannerParts, sink: Sink): void {
  for (const [i, { axis, coil }] of driveAxes.entries())
    refuseAcross(coil?.windings, axis, { path: ["driveAxes", i, "coil"], sink });
  for (const [i, { axis, coil }] of shiftFields.entries())
    refuseAcross(coil?.windings, axis, { path: ["shiftFields", i, "coil"], sink });
  for (const [i, { axis, windings }] of receive.entries())
    refuseAcross(windings, axis, { path: ["receive", i, "windings"], sink });
}

function refuseAcross(
  windings: readonly ParsedWinding[] | undefined,
  axis: Axis,
  { path, sink }: { readonly path: DocumentPath; readonly sink: Sink },
): void {
  if (windings === undefined) return;
  const sources = windings.flatMap((winding) => toWinding(winding).sources);
  const along = fieldAtPoint(sources, [0, 0, 0])[axisIndex(axis)];
  const all_T = contributionSum_T(sources, [0, 0, 0]);
  // No turns at all are a fault of their own, told at their place.
  if (all_T === 0 || Math.abs(along) > 1e-6 * all_T) return;
  refuse(sink, path, {
    found: `windings whose field at the centre has no part along ${axis}`,
    accepted: `windings that make a field along their axis "${axis}", or another axis`,
  });
}

function refuseSlowDigitisers({ driveAxes, receive }: ScannerParts, sink: Sink): void {
  const fastest_Hz = Math.max(...driveAxes.map(({ frequency }) => frequency));
  receive.forEach(({ digitiser }, i) => {
    if (digitiser === undefined || digitiser.rate > 2 * fastest_Hz) return;
    refuse(sink, ["receive", i, "digitiser", "rate"], {
      found: `${digitiser.rate} S/s for a drive of ${fastest_Hz} Hz: the drive lies at or above half of it`,
      accepted: `more than ${2 * fastest_Hz} S/s (Nyquist), and enough for the harmonics`,
    });
  });
}
