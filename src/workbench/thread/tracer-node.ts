import { parseDocument, type TracerModel } from "../../documents/index.js";
import { fitDocument } from "../fit/fit-document.js";
import { figuresOfFit } from "../fit/fit-figures.js";
import { fitMeasurements, tracerOf } from "../fit/fit-measurements.js";
import { fitMethods } from "../fit/fit-methods.js";
import type { Artifact } from "../store/artifact.js";
import type { ArtifactFiles } from "../store/artifact-store.js";
import { kernel, pretty } from "./node-common.js";
import { documentDigest, type StudyRun } from "./study-run.js";

export interface TracerNode {
  readonly artifact: Artifact;
  readonly model: TracerModel;
}

/** measured curve -> tracer. A study with a tracer document passes it through. */
export async function tracerNode({ loaded, store, progress, signal }: StudyRun): Promise<TracerNode> {
  const { tracer, tracerCurve } = loaded;
  const artifact =
    tracerCurve === undefined
      ? await store.resolve(
          {
            node: "tracer",
            method: "document",
            methodVersion: 1,
            kernel,
            inputs: { tracer: documentDigest(requireTracer(tracer)) },
            options: {},
          },
          () => ({ "tracer.json": pretty(tracer?.document) }),
          { signal },
        )
      : await store.resolve(
          {
            node: "tracer",
            method: fitMethods("log-normal-langevin").method,
            methodVersion: fitMethods("log-normal-langevin").version,
            kernel,
            inputs: {
              curve: tracerCurve.curve.sha256,
              ...(tracerCurve.descriptor === undefined ? {} : { descriptor: tracerCurve.descriptor.sha256 }),
            },
            options: {},
          },
          () => {
            progress("fitting the magnetisation curve");
            return fittedFiles(tracerCurve.curve.file, tracerCurve.descriptor?.file);
          },
          { signal },
        );
  return { artifact, model: parseDocument(artifact.readText("tracer.json"), { family: "tracer" }).model };
}

function requireTracer(tracer: StudyRun["loaded"]["tracer"]) {
  // The schema asks for one of the two; this is for the compiler.
  if (tracer === undefined) throw new Error("a study without tracer and curve");
  return tracer;
}

async function fittedFiles(file: string, descriptor: string | undefined): Promise<ArtifactFiles> {
  const fitted = fitMeasurements({ files: [file], ...(descriptor === undefined ? {} : { descriptors: [descriptor] }) });
  const { fit } = await figuresOfFit(fitted);
  return { "tracer.json": pretty(tracerOf(fitted, file)), "fit.json": pretty(fitDocument(fitted)), "fit.svg": fit.svg };
}
