import { LINK, type Finding, type Links, type Network } from './network.ts';
import { faultOfCurve, readyCurve, type ReadyCurve } from './curve.ts';
import { viscosity } from './water.ts';

/** What of a network can be used, and what was found wrong with the rest. */
export interface Examined {
  /** 1 where the link can carry water, 0 where it is left out. */
  readonly linkOk: Uint8Array;
  readonly outletOk: Uint8Array;
  /** 1 where the head of the node is held. */
  readonly nodeFixed: Uint8Array;
  /** Null where the curve cannot be used; links with it are taken without loss. */
  readonly curves: readonly (ReadyCurve | null)[];
  readonly viscosityM2s: number;
  readonly findings: readonly Finding[];
}

const PLAIN_EXPONENT_MAX = 2;
/** Beyond these a value is taken for a slip: no bed has them, and arithmetic with them fails. Metres. */
const HIGHEST_M = 1e5;
const LONGEST_M = 1e6;
const BORES_M = { from: 1e-5, to: 100 } as const;
const LARGEST_K = 1e6;
/** m3/s, and m3/s per m^x. */
const LARGEST_FLOW = 1e3;

function badValue(
  part: { nodes?: readonly number[]; links?: readonly number[]; outlets?: readonly number[] },
  message: string,
): Finding {
  return {
    kind: 'bad-value',
    nodes: part.nodes ?? [],
    links: part.links ?? [],
    outlets: part.outlets ?? [],
    message,
  };
}

/**
 * Goes through all values once. Nothing is thrown: what cannot be used is named and left out.
 * @param before what was found in an earlier network, taken over where nothing but links is new.
 */
export function examine(
  network: Network,
  before?: { readonly network: Network; readonly examined: Examined },
): Examined {
  const { nodes, links, outlets } = network;
  if (before && sameButLinks(network, before.network) && before.examined.findings.length === 0) {
    const linkOk = new Uint8Array(links.count);
    if (checkLinks(network, before.examined.curves, linkOk)) return { ...before.examined, linkOk };
  }
  const findings: Finding[] = [];

  const nodeFixed = new Uint8Array(nodes.count);
  const badNodes: number[] = [];
  for (let i = 0; i < nodes.count; i++) {
    const head = nodes.fixedHeadM[i]!;
    if (isLevel(head)) nodeFixed[i] = 1;
    if ((!Number.isNaN(head) && !isLevel(head)) || !isLevel(nodes.elevationM[i]!)) badNodes.push(i);
  }
  if (badNodes.length > 0) {
    findings.push(
      badValue(
        { nodes: badNodes },
        'The elevation or the held head of a node is not a number. Outlets and regulator settings there are left out; ' +
          'give the node a level.',
      ),
    );
  }

  const curveFaults: string[] = [];
  const curves = network.curves.map((curve, i) => {
    const fault = faultOfCurve(curve);
    if (fault !== null) curveFaults.push(`loss curve ${i} ${fault}`);
    return fault === null ? readyCurve(curve) : null;
  });

  const linkOk = new Uint8Array(links.count);
  const badLinks: number[] = [];
  const curveless: number[] = [];
  if (!checkLinks(network, curves, linkOk)) {
    for (let l = 0; l < links.count; l++) {
      if (linkOk[l] === 0) badLinks.push(l);
      else if (lacksCurve(network, curves, l)) curveless.push(l);
    }
  }
  if (badLinks.length > 0) {
    findings.push(
      badValue(
        { links: badLinks },
        'A pipe or fitting has a length, bore, roughness, loss or setting that is missing, negative or zero where it ' +
          'must not be, or an end that does not exist. It is left out as if it were not there; correct its size.',
      ),
    );
  }
  if (curveless.length > 0) {
    for (const i of new Set(curveless.map((l) => network.links.curve[l]!))) {
      if (curves[i])
        curveFaults.push(`loss curve ${i} has a loss at zero flow, which only a check valve may have`);
    }
    const why = curveFaults.length > 0 ? curveFaults.join('; ') : 'the loss curve does not exist';
    findings.push(
      badValue(
        { links: curveless },
        `A part is taken without loss, because ${why}. Give flows and losses that rise together from zero.`,
      ),
    );
  }

  const outletOk = new Uint8Array(outlets.count);
  const badOutlets: number[] = [];
  for (let k = 0; k < outlets.count; k++) {
    if (usableOutlet(network, k)) outletOk[k] = 1;
    else badOutlets.push(k);
  }
  if (badOutlets.length > 0) {
    findings.push(
      badValue(
        { outlets: badOutlets },
        'An outlet has a flow, exponent, pressure range or height that is missing or out of range, or no level. It is ' +
          'counted as closed; correct its values.',
      ),
    );
  }

  let viscosityM2s = network.viscosityM2s;
  if (!(viscosityM2s > 0 && viscosityM2s < 1)) {
    viscosityM2s = viscosity(20);
    findings.push(badValue({}, 'The viscosity is not a number above zero; water of 20 °C is used.'));
  }
  return { linkOk, outletOk, nodeFixed, curves, viscosityM2s, findings };
}

/** Whether nothing but links is new. */
export function sameButLinks(a: Network, b: Network): boolean {
  return (
    a.nodes === b.nodes &&
    a.outlets === b.outlets &&
    a.curves === b.curves &&
    a.viscosityM2s === b.viscosityM2s
  );
}

/** Whether a part names a curve that it cannot have; it is then taken without loss. */
export function lacksCurve({ links }: Network, curves: Examined['curves'], l: number): boolean {
  if (links.kind[l] === LINK.pipe || links.curve[l] === -1) return false;
  const curve = curves[links.curve[l]!];
  return !curve || (curve.openingM > 0 && links.kind[l] !== LINK.check);
}

/** Marks the links that can be used; gives whether all can, with the curves they name. */
function checkLinks(network: Network, curves: Examined['curves'], linkOk: Uint8Array): boolean {
  const { from, to, kind } = network.links;
  const { count } = network.nodes;
  let all = true;
  for (let l = 0; l < linkOk.length; l++) {
    const a = from[l]!;
    const b = to[l]!;
    if (a < 0 || b < 0 || a >= count || b >= count || a === b) all = false;
    else if (kind[l] === LINK.pipe ? usablePipe(network.links, l) : usablePart(network.links, l)) {
      linkOk[l] = 1;
      if (kind[l] !== LINK.pipe && lacksCurve(network, curves, l)) all = false;
    } else all = false;
  }
  return all;
}

function isLevel(valueM: number): boolean {
  return valueM >= -HIGHEST_M && valueM <= HIGHEST_M;
}

/** Whether the values of pipe `l` allow it to carry water. */
export function usablePipe(links: Links, l: number): boolean {
  const length = links.lengthM[l]!;
  const extra = links.extraLengthM[l]!;
  const bore = links.boreM[l]!;
  const roughness = links.roughnessM[l]!;
  const lossK = links.lossK[l]!;
  return (
    length >= 0 &&
    extra >= 0 &&
    length + extra <= LONGEST_M &&
    lossK >= 0 &&
    lossK <= LARGEST_K &&
    bore >= BORES_M.from &&
    bore <= BORES_M.to &&
    roughness >= 0 &&
    roughness < bore &&
    (links.hazenWilliamsC === undefined || usableC(links.hazenWilliamsC[l]!))
  );
}

function usableC(coefficientC: number): boolean {
  return Number.isNaN(coefficientC) || (coefficientC >= 1 && coefficientC <= 300);
}

function usablePart(links: Links, l: number): boolean {
  const kind = links.kind[l]!;
  if (kind === LINK.regulator) return links.settingM[l]! >= 0 && links.settingM[l]! <= HIGHEST_M;
  return kind === LINK.loss || kind === LINK.check;
}

function usableOutlet({ nodes, outlets }: Network, k: number): boolean {
  const node = outlets.node[k]!;
  if (node < 0 || node >= nodes.count) return false;
  const place = nodes.elevationM[node]! + outlets.riseM[k]!;
  const coefficient = outlets.coefficient[k]!;
  const exponent = outlets.exponent[k]!;
  if (!isLevel(place) || !(coefficient >= 0 && coefficient <= LARGEST_FLOW)) return false;
  if (!(exponent >= 0 && exponent <= PLAIN_EXPONENT_MAX)) return false;
  if (outlets.openShare !== undefined && !(outlets.openShare[k]! >= 0 && outlets.openShare[k]! <= 1))
    return false;
  const rated = outlets.ratedM3s[k]!;
  const residual = outlets.residualExponent[k]!;
  const from = outlets.rangeFromM[k]!;
  const compensates = !Number.isNaN(rated);
  if (outlets.closingM !== undefined) {
    const closing = outlets.closingM[k];
    const highest = compensates ? from : HIGHEST_M;
    if (closing === undefined || closing < 0 || closing >= highest) return false;
  }
  if (!compensates) return true;
  return (
    rated >= 0 && rated <= LARGEST_FLOW && from > 0 && from <= HIGHEST_M && residual >= 0 && residual <= 1
  );
}
