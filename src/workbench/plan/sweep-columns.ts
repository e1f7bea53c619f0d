/** One number a point: what it is, in which unit it is shown and written. */
export interface SweepColumn {
  readonly name: string;
  /** SI unit of the values. */
  readonly unit: string;
  readonly summary: string;
}

const column = (name: string, unit: string, summary: string): SweepColumn => ({ name, unit, summary });

/** The columns of a sweep, in the order of its table. NaN: not known. */
export const sweepColumns = [
  column("gradient", "T/m", "largest principal gradient"),
  column("drive_amplitude", "T", "peak of mu0H"),
  column("frequency", "Hz", "of the drive"),
  column("bore_diameter", "m", "the scanner scaled to it"),
  column("static_width", "m", "along the drive, FWHM of the tracer's static response: a lower bound"),
  column("patch", "m", "2 A/G along the drive"),
  column("shift_for_quarter_bore", "T", "shift field that moves the centre by a quarter of the bore"),
  column("signal", "V/kg", "third harmonic of a point of Fe, peak"),
  column("detection_noise", "kg", "detection limit of a point of Fe, noise-limited, in the scan time"),
  column("detection_background", "kg", "the same, by a background whose harmonics drift together"),
  column("stimulation_low", "1", "drive over the most lenient threshold"),
  column("stimulation_high", "1", "drive over the strictest threshold"),
  column("heating_low", "1", "heating over the most lenient limit"),
  column("heating_high", "1", "heating over the strictest limit"),
  column("sar", "W/kg", "mean over the section, with the duty"),
  column("selection_power", "W", "of the selection coils"),
  column("stored_energy", "J", "of the selection coils"),
  column("drive_current", "A", "peak"),
  column("drive_power", "W", "while it is on"),
  column("drive_voltage", "V", "peak, at the amplifier"),
  column("drive_apparent_power", "W", "V rms times I rms of the drive coil (VA)"),
  column("heat", "W", "selection and drive, with the duty"),
  column("conductor_mass", "kg", "of all coils"),
  column("magnet_mass", "kg", "of all magnets"),
  column("hardware_ratio", "1", "largest need over supply, cooling or magnet strength"),
  column("cost", "1", "by the sweep's prices, in their currency"),
] as const satisfies readonly SweepColumn[];

export type SweepColumnName = (typeof sweepColumns)[number]["name"];
export type SweepRow = Record<SweepColumnName, number>;
export type SweepTable = Readonly<Record<SweepColumnName, Float64Array>>;

export function emptyTable(points: number): SweepTable {
  const entries = sweepColumns.map(({ name }) => [name, new Float64Array(points).fill(Number.NaN)]);
  return Object.fromEntries(entries) as unknown as SweepTable;
}
