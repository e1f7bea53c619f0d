import { type Figure, type PredictedCurves, predictionFigure } from "../../figures/index.js";
import { formatQuantity } from "../../units/index.js";
import type { PredictedAxis, TracerPrediction } from "./predict-tracers.js";

/** Point responses and harmonics of every tracer under one drive. */
export function figureOfPrediction({ predictions }: PredictedAxis): Promise<Figure> {
  const { drive, scanner } = predictions[0];
  const { axis, amplitude_T, frequency_Hz, waveform } = drive;
  return predictionFigure({
    title: `Predicted response on ${scanner}`,
    subtitle: `${waveform} drive along ${axis}, ${formatQuantity(amplitude_T, "appliedField")} peak, ${formatQuantity(frequency_Hz, "frequency")}; static curves are lower bounds of the width`,
    tracers: predictions.map(curvesOf),
  });
}

function curvesOf({ tracer, dynamic, relaxation }: TracerPrediction): PredictedCurves {
  const { sweeps, staticCurve, harmonics } = dynamic;
  const isDynamic = sweeps !== null && relaxation.kind !== "none";
  return {
    name: tracer,
    staticResponse: staticCurve,
    ...(isDynamic ? { forward: sweeps.forward, backward: sweeps.backward } : {}),
    harmonics,
  };
}
