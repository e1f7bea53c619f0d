import { published } from "./published.js";
import { detectionIn, type Seen, type ShippedScanners } from "./shipped-scanners.js";

/** One figure of ours beside a published one. */
export interface Band {
  /** Row of the reference sheet, and what is compared. */
  readonly name: string;
  /** In the unit that the name gives. */
  readonly found: number;
  readonly published: string;
  readonly low: number;
  readonly high: number;
}

/**
 * Figures that a sound design stands near to; sanity bands, not accuracy. Why each is as wide as it is: SOURCE.md.
 *   ranges of designs: as printed;  head design: a factor 2 in gradient, a tenth in drive and frequency
 *   detection: at most 10 times worse, at most 30 times better than what was measured
 *   rodent to head: sqrt(10) either way in sensitivity, 2 either way in width
 * Backgrounds are those of harmonics that drift each on its own; drifting together is worse by a third or less (SOURCE.md).
 */
export function bands(scanners: ShippedScanners): Band[] {
  const { mouse, rat, head } = scanners;
  return [
    ...designBands("mouse", mouse),
    ...designBands("rat", rat),
    ...headDesignBands(head),
    ...mouseDetectionBands(mouse),
    ...headDetectionBands(head),
    ...scaleBands("mouse", mouse, head),
    ...scaleBands("rat", rat, head),
  ];
}

export const isInside = ({ found, low, high }: Band): boolean => found >= low && found <= high;

function designBands(animal: string, { scanner, gradient_T_per_m }: Seen): Band[] {
  const { animalScanners: ranges } = published;
  const [drive] = scanner.driveAxes;
  const row = (what: string, found: number, [low, high]: readonly [number, number], factor: number): Band => ({
    name: `G2 ${animal}: ${what}`,
    found: found * factor,
    published: `${low * factor} to ${high * factor}`,
    low: low * factor,
    high: high * factor,
  });
  return [
    row("gradient, T/m", gradient_T_per_m.largest, ranges.gradient_T_per_m, 1),
    row("drive amplitude, mT", drive.maximumAmplitude_T, ranges.driveAmplitude_T, 1e3),
    row("drive frequency, kHz", drive.frequency_Hz, ranges.driveFrequency_Hz, 1e-3),
    row("bore, mm", scanner.boreDiameter_m, ranges.boreDiameter_m, 1e3),
    row("receive bandwidth, MHz", scanner.receive[0].bandwidth_Hz ?? Number.NaN, ranges.bandwidth_Hz, 1e-6),
  ];
}

const within = (value: number, factor: number) => ({ low: value / factor, high: value * factor });

function headDesignBands({ scanner, gradient_T_per_m }: Seen): Band[] {
  const { headScanner } = published;
  const [drive] = scanner.driveAxes;
  const row = (what: string, found: number, value: number, factor: number): Band => ({
    name: `G3 head: ${what}`,
    found,
    published: `about ${value}`,
    ...within(value, factor),
  });
  return [
    row("gradient, T/m", gradient_T_per_m.largest, headScanner.gradient_T_per_m, 2),
    row("drive amplitude, mT", drive.maximumAmplitude_T * 1e3, headScanner.driveAmplitude_T * 1e3, 1.1),
    row("drive frequency, kHz", drive.frequency_Hz * 1e-3, headScanner.driveFrequency_Hz * 1e-3, 1.1),
  ];
}

/** At most ten times worse than measured; more than thirty times better would be suspect even of a lower bound. */
function detectionBand(name: string, found_ng: number, measured_ng: number): Band {
  return {
    name,
    found: found_ng,
    published: String(Number(measured_ng.toPrecision(4))),
    low: measured_ng / 30,
    high: measured_ng * 10,
  };
}

function mouseDetectionBands(mouse: Seen): Band[] {
  const { mouseLimit, mouseBolus } = published;
  const scan = detectionIn(mouseLimit.time_s, mouse, mouse.real);
  const frame_kg = detectionIn(mouseBolus.frame_s, mouse, mouse.real).noise.limits_kg.detection;
  const scaled_ng = mouseLimit.iron_kg * 1e12 * Math.sqrt(mouseLimit.time_s / mouseLimit.frame_s);
  return [
    detectionBand(
      "N1 mouse: noise limit in 2.14 s, ng",
      scan.noise.limits_kg.detection * 1e12,
      mouseLimit.iron_kg * 1e12,
    ),
    detectionBand(
      "N1 mouse: with its background, ng",
      scan.reweighted.limits_kg.detection * 1e12,
      mouseLimit.iron_kg * 1e12,
    ),
    detectionBand("E7 mouse: noise limit in 21.5 ms, ng", frame_kg * 1e12, scaled_ng),
    {
      name: "N2 mouse: noise limit in 21.5 ms over a bolus that was seen",
      found: frame_kg / mouseBolus.iron_kg,
      published: "below 1",
      low: 0,
      high: 1,
    },
  ];
}

/** N3 names neither volume nor time: 1 mL looked at for 1 s stands in, so only the order can be asked for. */
function headDetectionBands(head: Seen): Band[] {
  const { headLimit, primateLimit } = published;
  const { noise, background } = detectionIn(primateLimit.time_s, head, head.real);
  const measured_ng = primateLimit.iron_kg * 1e12;
  return [
    detectionBand(
      "N3 head: noise limit in 1 mL and 1 s, ng/mL",
      head.real.limits.noise.limits_kg.detection * 1e12,
      headLimit.concentration_kg_per_m3 * 1e6,
    ),
    detectionBand(
      "N4 head: one standard uncertainty by noise in 4.7 s, ng",
      noise.standardUncertainty_kg * 1e12,
      measured_ng,
    ),
    detectionBand(
      "N4 head: one standard uncertainty by its background, ng",
      background.standardUncertainty_kg * 1e12,
      measured_ng,
    ),
  ];
}

function scaleBands(animal: string, rodent: Seen, head: Seen): Band[] {
  const { rodentToHead } = published;
  const row = (what: string, found: number, value: number, factor: number): Band => ({
    name: `E13 ${animal} to head: ${what}`,
    found,
    published: String(value),
    ...within(value, factor),
  });
  const noise = ({ real }: Seen) => real.limits.noise.limits_kg.detection;
  return [
    row("noise limit, times", noise(head) / noise(rodent), rodentToHead.sensitivity, Math.sqrt(10)),
    row("static width along the drive, times", head.width_m / rodent.width_m, rodentToHead.width, 2),
  ];
}
