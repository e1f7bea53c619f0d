import { Command } from "commander";
import type { Face } from "./face.js";
import type { AddVerb } from "./verb.js";
import { addCompletion } from "./verbs/completion.js";
import { addDoctor } from "./verbs/doctor.js";
import { addFit } from "./verbs/fit.js";
import { addFormula } from "./verbs/formula.js";
import { addHelp } from "./verbs/help.js";
import { addInspect } from "./verbs/inspect.js";
import { addNew } from "./verbs/new.js";
import { addPlan } from "./verbs/plan.js";
import { addPredict } from "./verbs/predict.js";
import { addRun } from "./verbs/run.js";
import { addSteps } from "./verbs/steps.js";
import { readVersion } from "./version.js";

const verbs: readonly AddVerb[] = [
  addNew,
  addFit,
  addPredict,
  addPlan,
  addSteps,
  addRun,
  addInspect,
  addFormula,
  addDoctor,
  addCompletion,
  addHelp,
];

export function buildProgram(face: Face, setExitCode: (code: number) => void): Command {
  const program = new Command("ferrule")
    .description(
      "Magnetic particle imaging on one physical model: tracer -> scanner -> scan -> iron map -> answer.\n" +
        "Research use; not a medical device.",
    )
    .version(readVersion(), "-V, --version", "print the version")
    .helpCommand(false)
    .showSuggestionAfterError(true)
    .showHelpAfterError("(ferrule help VERB shows options and an example)")
    .configureOutput({ writeOut: (text) => face.print(text.trimEnd()), writeErr: (text) => face.note(text.trimEnd()) })
    .exitOverride()
    .addHelpText("after", exitCodeHelp);
  for (const add of verbs) add(program, face, setExitCode);
  for (const verb of program.commands) inherit(verb, program);
  return program;
}

/** Commander copies these settings only to commands made by `.command()`; ours are set once for every depth. */
function inherit(verb: Command, parent: Command): void {
  verb.copyInheritedSettings(parent);
  for (const child of verb.commands) inherit(child, verb);
}

const exitCodeHelp = `
Exit codes: 0 done; 1 every asked answer (or the fit's tracer) is withheld; 2 bad input or option; 3 our fault; 130 interrupted.`;
