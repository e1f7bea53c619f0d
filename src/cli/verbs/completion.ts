import { Argument, type Command } from "commander";
import { catalogue } from "../../handbook/index.js";
import { type AddVerb, examples } from "../verb.js";

const shells = ["bash", "zsh", "fish"] as const;

/** `ferrule completion bash`: a script for the shell, made from the verbs, options and formulas that we declare. */
export const addCompletion: AddVerb = (program, face) => {
  program
    .command("completion")
    .description("print a completion script for your shell")
    .addArgument(new Argument("<shell>", "your shell").choices(shells))
    .addHelpText("after", examples("ferrule completion bash > ferrule-completion.bash"))
    .action((shell: (typeof shells)[number]) => face.print(completionScript(program, shell)));
};

export function completionScript(program: Command, shell: (typeof shells)[number]): string {
  const verbs = program.commands.map((verb): Verb => {
    const words = argumentWords(verb, program);
    return {
      name: verb.name(),
      summary: verb.summary() || verb.description(),
      options: ["--help", ...verb.options.map((option) => option.long ?? "")].filter((option) => option !== ""),
      words,
      takesFiles: words.length === 0 && (verb.registeredArguments.length > 0 || verb.options.some(takesPath)),
    };
  });
  if (shell === "fish") return fish(verbs);
  return shell === "zsh" ? `autoload -U +X bashcompinit && bashcompinit\n${bash(verbs)}` : bash(verbs);
}

interface Verb {
  readonly name: string;
  readonly summary: string;
  readonly options: readonly string[];
  /** What its first argument may be, where that is a closed list. */
  readonly words: readonly string[];
  readonly takesFiles: boolean;
}

const takesPath = ({ flags }: { readonly flags: string }): boolean => /<(file|folder)>/.test(flags);

function argumentWords(verb: Command, program: Command): readonly string[] {
  if (verb.name() === "formula") return catalogue.map(({ name }) => name);
  if (verb.name() === "help") return program.commands.map((other) => other.name());
  return verb.registeredArguments[0]?.argChoices ?? [];
}

/** Words between newlines: with IFS a newline, names of files with blanks stay whole. */
const list = (words: readonly string[]): string => `$'${words.join("\\n")}'`;

function bash(verbs: readonly Verb[]): string {
  const cases = verbs.map(({ name, options, words, takesFiles }) => {
    const first = words.length === 0 ? "" : ` first=${list(words)}`;
    return `    ${name}) options=${list(options)}${first}${takesFiles ? " files=1" : ""} ;;`;
  });
  const inputs = catalogue.map((formula) => `      ${formula.name}) first=${list(inputWords(formula))} ;;`);
  return `_ferrule() {
  local IFS=$'\\n' current="\${COMP_WORDS[COMP_CWORD]}" options="" first="" files=""
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W ${list([...verbs.map(({ name }) => name), "--help", "--version"])} -- "$current"))
    return
  fi
  case "\${COMP_WORDS[1]}" in
${cases.join("\n")}
  esac
  if [ "\${COMP_WORDS[1]}" = formula ] && [ "$COMP_CWORD" -gt 2 ]; then
    first=""
    case "\${COMP_WORDS[2]}" in
${inputs.join("\n")}
    esac
    if [ -n "$first" ]; then compopt -o nospace 2>/dev/null || true; fi
  elif [ "$COMP_CWORD" -gt 2 ]; then
    first=""
  fi
  COMPREPLY=($(compgen -W "$options"$'\\n'"$first" -- "$current"))
  [ -z "$files" ] || COMPREPLY+=($(compgen -f -- "$current"))
}
complete -o filenames -F _ferrule ferrule`;
}

const inputWords = ({ inputs }: (typeof catalogue)[number]): string[] => inputs.map(({ name }) => `${name}=`);

function fish(verbs: readonly Verb[]): string {
  return verbs
    .flatMap(({ name, summary, options, words, takesFiles }) => {
      const inVerb = `complete -c ferrule -n '__fish_seen_subcommand_from ${name}'`;
      return [
        `complete -c ferrule -f -n __fish_use_subcommand -a ${name} -d '${summary.replace(/'/g, "")}'`,
        ...(takesFiles ? [] : [`${inVerb} -f`]),
        ...(words.length === 0 ? [] : [`${inVerb} -a '${words.join(" ")}'`]),
        ...options.map((option) => `${inVerb} -l ${option.replace(/^--/, "")}`),
      ];
    })
    .join("\n");
}
