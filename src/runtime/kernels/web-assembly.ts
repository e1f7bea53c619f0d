/** A memory of WebAssembly: what `new WebAssembly.Memory(...)` gives. */
export interface WasmMemory {
  readonly buffer: ArrayBuffer | SharedArrayBuffer;
  grow(pages: number): number;
}

interface WasmInstance {
  readonly exports: Readonly<Record<string, unknown>>;
}

/** The part of WebAssembly that we use. The language's own types leave it to those of the browser, which we do not load. */
interface WasmHost {
  readonly Memory: new (size: { initial: number; maximum: number; shared?: boolean }) => WasmMemory;
  instantiate(
    binary: Uint8Array,
    imports: { readonly env: Readonly<Record<string, unknown>> },
  ): Promise<{ readonly instance: WasmInstance }>;
}

export const webAssembly: WasmHost = (globalThis as unknown as { readonly WebAssembly: WasmHost }).WebAssembly;
