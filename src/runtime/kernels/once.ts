/** Loads when first asked for, and once. */
export function once<Value>(load: () => Promise<Value>): () => Promise<Value> {
  let loading: Promise<Value> | undefined;
  return () => {
    loading ??= load();
    return loading;
  };
}
