import {
  checkExecutable,
  DocumentError,
  type ProtocolModel,
  type ReconstructionSettings,
  type ScannerModel,
} from "../../documents/index.js";
import { FerruleError } from "../../errors.js";
import {
  type LineRaster,
  type Positions,
  type RasterGeometry,
  rasterFrames,
  rasterSizes,
  slowAxes,
} from "../../imaging/index.js";
import { diagonalOf, type StaticResponse } from "../../physics/index.js";

/** Blocks of empties below which drift cannot be judged: two interior ones are asked for. */
const fewestEmptyBlocks = 4;

/**
 * The line raster that a scanner runs for a protocol. Refuses what this thin thread does not hold yet (another waveform
 * than a cosine, an oblique gradient) and what the scanner cannot execute, each with its path in the protocol.
 */
export function rasterFromDocuments(
  scanner: ScannerModel,
  protocol: ProtocolModel,
  { file }: { file?: string } = {},
): LineRaster {
  const problems = checkExecutable(scanner, protocol);
  if (problems.length > 0) throw new DocumentError(problems.map((problem) => ({ ...problem, file })));
  const refuse = (path: string, found: string, accepted: string): never => {
    throw new FerruleError("InvalidValue", { file, path, found, accepted });
  };
  const { drive, sampling, raster, periodsPerPatch, settleTime_s, empties } = protocol;
  if (drive.waveform !== "cosine" || drive.phase_rad !== 0)
    refuse(
      "drive.waveform",
      `${drive.waveform} with phase ${drive.phase_rad} rad`,
      '"cosine" without a phase, for now',
    );
  if (empties === undefined)
    return refuse(
      "empties",
      "no empties",
      'e.g. { "every": 150, "periods": 400 }: without them there is no background to subtract',
    );
  if (empties.periods % periodsPerPatch !== 0 || empties.periods < 2 * periodsPerPatch)
    refuse(
      "empties.periods",
      String(empties.periods),
      `a multiple of periodsPerPatch of at least ${2 * periodsPerPatch}`,
    );
  const [a, b] = slowAxes(drive.axis);
  const line: LineRaster = {
    driveAxis: drive.axis,
    driveAmplitude_T: drive.amplitude_T,
    frequency_Hz: drive.frequency_Hz,
    samplesPerPeriod: sampling.samplesPerPeriod,
    periodsPerFrame: periodsPerPatch,
    settle_s: settleTime_s,
    lines: { a: positions(raster.axes[a]), b: positions(raster.axes[b]) },
    patches: positions(raster.axes[drive.axis]),
    patchesPerEmpty: empties.everyPatches,
    framesPerEmpty: empties.periods / periodsPerPatch,
  };
  const blocks = 1 + rasterFrames(line).reduce((last, { emptyBlock }) => Math.max(last, emptyBlock), 0);
  if (blocks < fewestEmptyBlocks)
    refuse(
      "empties.every",
      `${blocks} blocks of empties`,
      `at least ${fewestEmptyBlocks}, so that drift can be judged`,
    );
  return line;
}

function positions({
  from_m,
  step_m,
  count,
}: {
  from_m: number;
  step_m?: number | undefined;
  count: number;
}): Positions {
  return { from_m, step_m: step_m ?? 0, count };
}

/** The reconstruction's geometry: raster, gradient and coil of the documents, voxels and harmonics of the study. */
export function geometryFor(
  scanner: ScannerModel,
  raster: LineRaster,
  { settings, response }: { settings: ReconstructionSettings; response: StaticResponse },
): RasterGeometry {
  const geometry: RasterGeometry = {
    raster,
    ...physicsOf(scanner, raster),
    response,
    harmonics: settings.harmonics,
    voxels: { marginLines: settings.marginLines, drive: positions(settings.voxelsAlongDrive) },
  };
  const { voxels } = rasterSizes(geometry);
  if (voxels > mostVoxels)
    throw new FerruleError("InvalidValue", {
      path: "reconstruction",
      found: `a map of ${voxels} voxels`,
      accepted: `at most ${mostVoxels} for now: the normal equations are factored, and time grows with the cube`,
    });
  return geometry;
}

/** Some minutes and 3 GB. */
const mostVoxels = 20_000;

/** Diagonal gradient and signed sensitivity of the coil along the drive axis. */
export function physicsOf(scanner: ScannerModel, raster: LineRaster) {
  const receive = scanner.receive.find(({ axis }) => axis === raster.driveAxis);
  if (receive === undefined)
    throw new FerruleError("InvalidValue", {
      path: "receive",
      found: `no receive channel on the drive axis ${raster.driveAxis}`,
      accepted: `a channel with "axis": "${raster.driveAxis}"`,
    });
  if (!receive.removesFundamental)
    throw new FerruleError("InvalidValue", {
      path: "receive.removesFundamental",
      found: "false",
      accepted: "true: this thread takes the fundamental as lost to the receive filter",
    });
  return {
    gradient_T_per_m: diagonalOf({
      gradient_T_per_m: Float64Array.from(scanner.selectionField.gradient_T_per_m.flat()),
    }),
    sensitivity_T_per_A: receive.polarity * receive.sensitivity_T_per_A,
    noise_V_per_rtHz: receive.noise_V_per_sqrtHz,
  };
}
