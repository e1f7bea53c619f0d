/** A fit as provenance names it; bump the version when its numbers change. */
const methods: Readonly<Record<string, { readonly method: string; readonly version: number; readonly words: string }>> =
  {
    "log-normal-langevin": { method: "log-normal-langevin", version: 3, words: "log-normal Langevin fit" },
    "log-normal-mixture": { method: "log-normal-mixture", version: 1, words: "fit of log-normal populations" },
    "free-form": { method: "free-form", version: 1, words: "free-form fit of a size distribution" },
    "mean-field-chain": { method: "mean-field-chain", version: 1, words: "fit of chained cores" },
    joint: { method: "joint", version: 1, words: "joint fit" },
  };

export function fitMethods(model: string) {
  return methods[model] ?? { method: model, version: 1, words: `${model} fit` };
}
