import {
  FlowUnits,
  HeadLossType,
  LinkProperty,
  LinkType,
  NodeProperty,
  NodeType,
  Option,
  Project,
  Workspace,
} from 'epanet-js';
import { LINK, m3sToLph, type Network } from '../../src/hydraulics/index.ts';
import { ENGINE_GRAVITY } from '../../src/hydraulics/samples/build.ts';

/**
 * The public-domain EPANET engine (U.S. EPA) with the same network, for comparison. It knows one exponent for all
 * outlets, no compensating outlets, and no curve on a regulator.
 */
export interface Engine {
  /** Solves; may be called again after a change. */
  readonly run: () => void;
  readonly headsM: () => Float64Array;
  readonly flowsM3s: () => Float64Array;
  readonly setLengthM: (link: number, lengthM: number) => void;
  readonly close: () => void;
}

const MM = 1000;
/** The engine's viscosity is a share of 1.1e-5 ft2/s. */
const ENGINE_VISCOSITY_M2S = 1.1e-5 * 0.3048 ** 2;
const LPH_PER_LPM = 60;
const EMITTER_BACKFLOW = 24;
const LEAST_ROUGHNESS_MM = 1e-7;

/** Loads the engine and builds the network in it. Friction lengths are brought to its gravity. */
export async function engineOf(network: Network): Promise<Engine> {
  const workspace = new Workspace();
  await workspace.loadModule();
  const model = new Project(workspace);
  const { nodes, links, outlets } = network;
  const coefficientC = links.hazenWilliamsC;
  model.init('report.rpt', 'out.bin', FlowUnits.LPM, coefficientC ? HeadLossType.HW : HeadLossType.DW);
  const exponent = outlets.count > 0 ? outlets.exponent[0]! : 0.5;
  model.setOption(Option.Emitexpon, exponent);
  model.setOption(Option.Accuracy, 1e-6);
  model.setOption(Option.Trials, 200);
  model.setOption(Option.SpViscos, network.viscosityM2s / ENGINE_VISCOSITY_M2S);
  model.setOption(EMITTER_BACKFLOW as Option, 0);

  for (let v = 0; v < nodes.count; v++) {
    const held = Number.isFinite(nodes.fixedHeadM[v]!);
    const index = model.addNode(`n${v}`, held ? NodeType.Reservoir : NodeType.Junction);
    model.setNodeValue(index, NodeProperty.Elevation, held ? nodes.fixedHeadM[v]! : nodes.elevationM[v]!);
  }
  // Looked up at the end: the engine moves reservoirs behind joints that are added later.
  const nodeIndex = Array.from({ length: nodes.count }, (_, v) => model.getNodeIndex(`n${v}`));
  const coefficient = new Float64Array(nodes.count);
  for (let k = 0; k < outlets.count; k++) {
    if (outlets.exponent[k] !== exponent || !Number.isNaN(outlets.ratedM3s[k]!) || outlets.riseM[k] !== 0) {
      throw new Error('The engine takes plain outlets of one exponent, without rise.');
    }
    coefficient[outlets.node[k]!]! += outlets.coefficient[k]!;
  }
  for (let v = 0; v < nodes.count; v++) {
    const lpm = m3sToLph(coefficient[v]!) / LPH_PER_LPM;
    if (lpm > 0) model.setNodeValue(nodeIndex[v]!, NodeProperty.Emitter, lpm);
  }

  const gravity = ENGINE_GRAVITY / 9.80665;
  const linkIndex: number[] = [];
  for (let l = 0; l < links.count; l++) {
    const from = `n${links.from[l]}`;
    const to = `n${links.to[l]}`;
    const regulator = links.kind[l] === LINK.regulator;
    const index = model.addLink(`l${l}`, regulator ? LinkType.PRV : LinkType.Pipe, from, to);
    if (regulator) {
      model.setLinkValue(index, LinkProperty.Diameter, 25);
      model.setLinkValue(index, LinkProperty.InitSetting, links.settingM[l]!);
    } else {
      model.setPipeData(
        index,
        (links.lengthM[l]! + links.extraLengthM[l]!) * (coefficientC ? 1 : gravity),
        links.boreM[l]! * MM,
        coefficientC ? coefficientC[l]! : Math.max(links.roughnessM[l]! * MM, LEAST_ROUGHNESS_MM),
        links.lossK[l]! * gravity,
      );
    }
    linkIndex.push(index);
  }
  model.openH();
  return {
    run: () => {
      model.initH(11);
      model.runH();
    },
    headsM: () => Float64Array.from(nodeIndex, (i) => model.getNodeValue(i, NodeProperty.Head)),
    flowsM3s: () => Float64Array.from(linkIndex, (i) => model.getLinkValue(i, LinkProperty.Flow) / 60_000),
    setLengthM: (link, lengthM) => {
      model.setLinkValue(linkIndex[link]!, LinkProperty.Length, lengthM * (coefficientC ? 1 : gravity));
    },
    close: () => {
      model.closeH();
      model.close();
    },
  };
}
