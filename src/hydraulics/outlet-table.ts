import type { Network } from './network.ts';
import type { Ordering } from './ordering.ts';

/** Outlets in the order of elimination of their nodes; those that are counted as closed are left out. */
export interface OutletTable {
  /** By position of node: outlets `outletStart[k]` to `outletStart[k + 1] - 1`. */
  readonly outletStart: Int32Array;
  /** Index in the network. */
  readonly outletAt: Int32Array;
  /** Level, m. */
  readonly outletLevel: Float64Array;
  readonly outletFlow: Float64Array;
  /** 1 for plain outlets of exponent 1/2 without check; then the factor stands in `outletFactor`, clogging included. */
  readonly rootLaw: Uint8Array;
  readonly outletFactor: Float64Array;
}

export function buildOutletTable(nodeCount: number, outletCount: number): OutletTable {
  return {
    outletStart: new Int32Array(nodeCount + 1),
    outletAt: new Int32Array(outletCount),
    outletLevel: new Float64Array(outletCount),
    outletFlow: new Float64Array(outletCount),
    rootLaw: new Uint8Array(outletCount),
    outletFactor: new Float64Array(outletCount),
  };
}

/** Takes over the usable outlets of a network. */
export function readOutlets(
  table: OutletTable,
  { nodes, outlets }: Network,
  outletOk: Uint8Array,
  { position, sequence }: Ordering,
): void {
  const { outletStart, outletAt, outletLevel, rootLaw, outletFactor } = table;
  const { node, count, coefficient, exponent, ratedM3s, riseM, closingM, openShare } = outlets;
  outletStart.fill(0);
  // Position of each outlet's node, kept in the place of its flow; -1 where it is left out.
  const at = table.outletFlow;
  for (let i = 0; i < count; i++) {
    const k = outletOk[i] === 1 ? position[node[i]!]! : -1;
    at[i] = k;
    if (k >= 0) outletStart[k + 1]!++;
  }
  const nodeCount = sequence.length;
  for (let k = 0; k < nodeCount; k++) outletStart[k + 1]! += outletStart[k]!;
  const total = outletStart[nodeCount]!;
  // Filled from the back, so that each start ends where it belongs, and outlets of one node keep their order.
  for (let i = count - 1; i >= 0; i--) {
    const k = at[i]!;
    if (k < 0) continue;
    const j = --outletStart[k + 1]!;
    outletAt[j] = i;
    outletLevel[j] = nodes.elevationM[node[i]!]! + riseM[i]!;
    const rated = ratedM3s[i]!;
    const checked = closingM !== undefined && closingM[i]! > 0;
    rootLaw[j] = exponent[i] === 0.5 && rated !== rated && !checked ? 1 : 0;
    outletFactor[j] = openShare === undefined ? coefficient[i]! : coefficient[i]! * openShare[i]!;
  }
  for (let k = 0; k < nodeCount; k++) outletStart[k] = outletStart[k + 1]!;
  outletStart[nodeCount] = total;
}
