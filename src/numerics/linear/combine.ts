import { FerruleError } from "../../errors.js";
import { type LinearOperator, requireSameSpace, sizeOf } from "./operator.js";

/** outer ∘ inner: x ↦ outer(inner(x)). */
export function compose(outer: LinearOperator, inner: LinearOperator): LinearOperator {
  requireSameSpace(inner.range, outer.domain, `range of "${inner.name}" into "${outer.name}"`);
  return {
    name: `${outer.name} ∘ ${inner.name}`,
    domain: inner.domain,
    range: outer.range,
    forward: (x, out) => outer.forward(inner.forward(x), out),
    adjoint: (y, out) => inner.adjoint(outer.adjoint(y), out),
  };
}

/** factor·A. @param options.unit  unit of the range, where the factor changes it. */
export function scaled(
  a: LinearOperator,
  factor: number,
  { unit = a.range.unit }: { unit?: string } = {},
): LinearOperator {
  return {
    name: `${factor}·${a.name}`,
    domain: a.domain,
    range: { shape: a.range.shape, unit },
    forward: (x, out) => multiplyBy(a.forward(x, out), factor),
    adjoint: (y, out) => multiplyBy(a.adjoint(y, out), factor),
  };
}

/** A + B + ..., between the same two spaces. */
export function sum(...terms: readonly LinearOperator[]): LinearOperator {
  const first = firstTerm(terms);
  for (const term of terms) {
    requireSameSpace(term.domain, first.domain, `domain of "${term.name}"`);
    requireSameSpace(term.range, first.range, `range of "${term.name}"`);
  }
  const rest = terms.slice(1);
  return {
    name: terms.map(({ name }) => name).join(" + "),
    domain: first.domain,
    range: first.range,
    forward: (x, out) => rest.reduce((total, term) => addTo(total, term.forward(x)), first.forward(x, out)),
    adjoint: (y, out) => rest.reduce((total, term) => addTo(total, term.adjoint(y)), first.adjoint(y, out)),
  };
}

/** Vertical stack: x ↦ (A x, B x, ...), the ranges flattened one after the other; all in the same unit. */
export function stack(...parts: readonly LinearOperator[]): LinearOperator {
  const first = firstTerm(parts);
  for (const part of parts) {
    requireSameSpace(part.domain, first.domain, `domain of "${part.name}"`);
    requireSameSpace(
      { shape: [], unit: part.range.unit },
      { shape: [], unit: first.range.unit },
      `range of "${part.name}"`,
    );
  }
  const sizes = parts.map(({ range }) => sizeOf(range));
  const starts = sizes.map((_, i) => sizes.slice(0, i).reduce((total, size) => total + size, 0));
  const total = sizes.reduce((all, size) => all + size, 0);
  const slice = (y: Float64Array, i: number) => y.subarray(starts[i], starts[i] + sizes[i]);
  return {
    name: `[${parts.map(({ name }) => name).join("; ")}]`,
    domain: first.domain,
    range: { shape: [total], unit: first.range.unit },
    forward(x, out = new Float64Array(total)) {
      parts.forEach((part, i) => {
        part.forward(x, slice(out, i));
      });
      return out;
    },
    adjoint: (y, out) =>
      parts
        .slice(1)
        .reduce((all, part, i) => addTo(all, part.adjoint(slice(y, i + 1))), first.adjoint(slice(y, 0), out)),
  };
}

function firstTerm(terms: readonly LinearOperator[]): LinearOperator {
  if (terms[0] !== undefined) return terms[0];
  throw new FerruleError("InvalidValue", {
    path: "operators",
    found: "none",
    accepted: "at least one operator, e.g. sum(a, b)",
  });
}

function addTo(total: Float64Array, term: Float64Array): Float64Array {
  for (let i = 0; i < total.length; i++) total[i] = total[i] + term[i];
  return total;
}

function multiplyBy(values: Float64Array, factor: number): Float64Array {
  for (let i = 0; i < values.length; i++) values[i] = values[i] * factor;
  return values;
}
