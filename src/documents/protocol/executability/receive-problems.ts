import type { DocumentProblem } from "../../document-error.js";
import { feedthroughAtDigitiser_V } from "../../scanner/receive-feedthrough.js";
import type { ScannerModel } from "../../scanner/scanner-model.js";
import type { ProtocolModel } from "../protocol-model.js";
import { isSame, problem, unmetNeeds, writtenTwice } from "./problem.js";

/** Whether the digitiser is fast enough for the sampling and wide enough for what the drive leaves in the channel. */
export function receiveProblems(
  { receive, driveAxes }: ScannerModel,
  { drive, sampling }: ProtocolModel,
): DocumentProblem[] {
  return receive.flatMap((channel) => {
    const { digitiser } = channel.chain;
    if (digitiser === undefined) return [];
    const rate =
      sampling.rate_per_s <= digitiser.rate_per_s * (1 + writtenTwice)
        ? []
        : [
            problem(
              "sampling.rate",
              `${sampling.rate_per_s} S/s`,
              `at most ${digitiser.rate_per_s} S/s on receive channel ${channel.axis}`,
            ),
          ];
    const coil = driveAxes.find(
      ({ axis, frequency_Hz }) => axis === drive.axis && isSame(frequency_Hz, drive.frequency_Hz),
    )?.coil;
    const left_V = feedthroughAtDigitiser_V(channel, { ...drive, coil });
    return [
      ...rate,
      ...unmetNeeds([
        {
          path: "drive.amplitude",
          what: "a feedthrough that leaves",
          where: `(peak) at the digitiser of receive channel ${channel.axis}`,
          kind: "voltage",
          needed: left_V,
          available: digitiser.range_V,
        },
      ]),
    ];
  });
}
