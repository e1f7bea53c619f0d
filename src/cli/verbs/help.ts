import { FerruleError } from "../../errors.js";
import { didYouMean } from "../../handbook/index.js";
import { type AddVerb, examples } from "../verb.js";

/** `ferrule help VERB`: our own, because the parser's prints the whole usage for a verb that it does not know. */
export const addHelp: AddVerb = (program) => {
  program
    .command("help")
    .description("print help for a verb")
    .argument("[verb]", "one of the verbs of `ferrule --help`")
    .addHelpText("after", examples("ferrule help fit"))
    .action((name: string | undefined) => {
      const verb = name === undefined ? program : program.commands.find((candidate) => candidate.name() === name);
      if (verb === undefined)
        throw unknownVerb(
          name ?? "",
          program.commands.map((known) => known.name()),
        );
      verb.outputHelp();
    });
};

function unknownVerb(name: string, known: readonly string[]): FerruleError {
  return new FerruleError("UnknownName", {
    path: "verb",
    found: `"${name}"`,
    accepted: `${didYouMean(name, known)}Verbs: ${known.join(", ")}`,
  });
}
