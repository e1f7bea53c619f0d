/** Nodes and weights of a quadrature rule: ∫ f ≈ Σ weights[i]·f(nodes[i]); nodes ascending. */
export interface QuadratureRule {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}
