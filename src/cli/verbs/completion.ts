import { Argument, type Command } from "commander";
import { FerruleError } from "../../errors.js";
import { type AddVerb, examples } from "../verb.js";

const shells = ["bash", "zsh", "fish"] as const;

/** `ferrule completion bash`: a script for the shell, made from the verbs and options that the program declares. */
export const addCompletion: AddVerb = (program, face) => {
  program
    .command("completion")
    .description("print a completion script for your shell")
    .addArgument(new Argument("<shell>", `one of ${shells.join(", ")}`))
    .addHelpText("after", examples("ferrule completion bash > ferrule-completion.bash"))
    .action((shell: string) => face.print(completionScript(program, shell)));
};

export function completionScript(program: Command, shell: string): string {
  const verbs = program.commands.map((verb) => ({
    name: verb.name(),
    summary: verb.summary() || verb.description(),
    options: ["--help", ...verb.options.map((option) => option.long ?? "")].filter((option) => option !== ""),
  }));
  if (shell === "bash") return bash(verbs);
  if (shell === "zsh") return `autoload -U +X bashcompinit && bashcompinit\n${bash(verbs)}`;
  if (shell === "fish") return fish(verbs);
  throw new FerruleError("UnknownName", { path: "shell", found: shell, accepted: shells.join(", ") });
}

interface Verb {
  readonly name: string;
  readonly summary: string;
  readonly options: readonly string[];
}

function bash(verbs: readonly Verb[]): string {
  const cases = verbs.map(({ name, options }) => `    ${name}) words="${options.join(" ")}" ;;`);
  return `_ferrule() {
  local current="\${COMP_WORDS[COMP_CWORD]}" words
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "${verbs.map(({ name }) => name).join(" ")} --help --version" -- "$current"))
    return
  fi
  case "\${COMP_WORDS[1]}" in
${cases.join("\n")}
    *) words="" ;;
  esac
  COMPREPLY=($(compgen -W "$words" -- "$current") $(compgen -f -- "$current"))
}
complete -o filenames -F _ferrule ferrule`;
}

function fish(verbs: readonly Verb[]): string {
  return verbs
    .flatMap(({ name, summary, options }) => [
      `complete -c ferrule -n __fish_use_subcommand -a ${name} -d '${summary.replace(/'/g, "")}'`,
      ...options.map(
        (option) => `complete -c ferrule -n '__fish_seen_subcommand_from ${name}' -l ${option.replace(/^--/, "")}`,
      ),
    ])
    .join("\n");
}
