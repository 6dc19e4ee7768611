import {
  backflowCurve,
  backflowType,
  meterBySize,
  meterCurve,
  zoneValveBySize,
  zoneValveCurve,
  valvePattern,
  type LossPoint,
} from '../../catalog/index.ts';
import { LINK, type LossCurve } from '../../hydraulics/network.ts';
import { curveLoss, headLoss, headToKpa, kpaToHead, lphToM3s, viscosity } from '../../hydraulics/index.ts';
import type { Supply, WaterService } from '../../plan/records.ts';
import { nominalSize } from '../existing/pipe-bore.ts';
import type { PlacedSupply, SupplyPart } from '../results.ts';
import { counted } from '../wording.ts';
import type { NetworkDraft } from './network-draft.ts';
import { calledAs, type Notices } from './notices.ts';
import { pipeSection, type PipeSection } from './pipe-bore.ts';
import { supplyCurve } from './supply-curve.ts';

/** One thing that the water passes before the valve's outlet. */
type Device =
  | { readonly part: SupplyPart; readonly curve: LossCurve }
  | { readonly part: SupplyPart; readonly section: PipeSection; readonly lengthM: number };

/**
 * Puts a supply's way from the service to the outlet of its valve into the network: static pressure, the curve through
 * the measured working points, and the losses that this curve does not hold already: of meter, service pipe, backflow
 * preventer and zone valve. What was not surveyed is left out and named in the answer.
 */
export function placeSupply(
  water: WaterService,
  supply: Supply,
  node: number,
  draft: NetworkDraft,
  notices: Notices,
): PlacedSupply {
  const staticKpa = supply.pressureKpa ?? water.staticKpa;
  const none: PlacedSupply = {
    id: supply.id,
    node,
    link: -1,
    source: -1,
    staticKpa: null,
    chain: [],
    leftOut: [],
    hasPressure: false,
  };
  if (staticKpa === null || !Number.isFinite(staticKpa)) return none;
  const ref = { table: 'supplies', id: supply.id } as const;
  // Measured where the static pressure of the service was; a valve's own static pressure keeps the same fall.
  const { curve, unusable } = supplyCurve(water.staticKpa ?? staticKpa, water.workingPoints);
  if (unusable.length > 0) {
    notices.add(
      'working-point-unusable',
      'warning',
      `${counted(unusable.length, 'working point')} of the water service cannot be used: pressure must fall below the static pressure as flow grows. Measure again, and edit the working points in Survey under Water service.`,
      ref,
    );
  }
  const { devices, leftOut } = devicesOf(water, supply, curve !== null);
  const all: Device[] = curve ? [{ part: 'measured curve', curve }, ...devices] : devices;
  if (all.length === 0) {
    const known: PlacedSupply = { ...none, staticKpa, leftOut, source: node, hasPressure: true };
    if (draft.isHeld(node)) {
      notices.add(
        'supplies-in-one-place',
        'warning',
        `${calledAs('Supply', supply)} meets another one; the pressure of the first is taken. Join each valve to its own pipe.`,
        ref,
      );
      return { ...known, source: -1 };
    }
    draft.hold(node, staticKpa);
    return known;
  }
  const zM = draft.elevationOf(node);
  const source = draft.node(zM);
  draft.hold(source, staticKpa);
  let from = source;
  const chain = all.map((device, i) => {
    const to = i === all.length - 1 ? node : draft.node(zM);
    const link =
      'curve' in device
        ? draft.link(
            { kind: LINK.loss, from, to, curve: draft.lossCurve(device.curve) },
            ref,
            supply.at,
            supply.at,
          )
        : draft.link(
            {
              kind: LINK.pipe,
              from,
              to,
              lengthM: device.lengthM,
              boreM: device.section.innerDiameterMm / 1000,
              roughnessM: device.section.roughnessM,
            },
            ref,
            supply.at,
            supply.at,
          );
    from = to;
    return { part: device.part, link };
  });
  return {
    id: supply.id,
    node,
    link: chain.at(-1)!.link,
    source,
    staticKpa,
    chain,
    leftOut,
    hasPressure: true,
  };
}

/**
 * Pressure behind a zone's valve with some flow, kPa: what `placeSupply` puts into the network, reckoned by itself.
 * `null` where no static pressure is known.
 * @param staticKpa static pressure to begin with, e.g. the lowest reading
 * @param flowLph flow through the valve, L/h
 */
export function pressureBehindValve(
  water: WaterService,
  supply: Supply,
  staticKpa: number | null,
  flowLph: number,
): number | null {
  if (staticKpa === null || !Number.isFinite(staticKpa)) return null;
  const flowM3s = lphToM3s(flowLph);
  const viscosityM2s = viscosity(water.waterC ?? NaN);
  const { curve } = supplyCurve(water.staticKpa ?? staticKpa, water.workingPoints);
  const lossesM = devicesOf(water, supply, curve !== null).devices.map((device) =>
    'curve' in device
      ? curveLoss(device.curve, flowM3s)
      : headLoss(
          {
            lengthM: device.lengthM,
            boreM: device.section.innerDiameterMm / 1000,
            roughnessM: device.section.roughnessM,
          },
          flowM3s,
          viscosityM2s,
        ),
  );
  const measuredM = curve ? curveLoss(curve, flowM3s) : 0;
  return staticKpa - headToKpa(lossesM.reduce((sum, loss) => sum + loss, measuredM));
}

/** The devices whose losses the readings do not hold, in the order of flow, and those of unknown size. */
function devicesOf(
  water: WaterService,
  supply: Supply,
  hasCurve: boolean,
): { devices: Device[]; leftOut: SupplyPart[] } {
  const devices: Device[] = [];
  const leftOut: SupplyPart[] = [];
  const curved = (part: SupplyPart, points: readonly LossPoint[] | undefined): void => {
    if (points) devices.push({ part, curve: lossCurve(points) });
    else leftOut.push(part);
  };
  // A static reading holds no loss at all, wherever it was taken; working points hold all before their place.
  if (!hasCurve) {
    const meter = water.meterSize === null ? undefined : meterBySize(nominalSize(water.meterSize));
    curved('meter', meter && meterCurve(meter));
  }
  if (!hasCurve || water.measuredAt === 'meter') {
    const section = water.serviceSize === null ? null : pipeSection(water.serviceSize, water.serviceMaterial);
    const lengthM = water.serviceLengthM;
    if (section && section.assumed !== 'size' && lengthM !== null && lengthM > 0) {
      devices.push({ part: 'service pipe', section, lengthM });
    } else if (lengthM !== 0) leftOut.push('service pipe');
    const type = water.backflowType === null ? undefined : backflowType(water.backflowType);
    const size = water.backflowSize ?? water.serviceSize;
    const known = type !== undefined && size !== null;
    if (!isNone(water.backflowType)) {
      curved('backflow preventer', known ? backflowCurve(type, nominalSize(size)) : undefined);
    }
  }
  const valve = supply.valveSize === null ? undefined : zoneValveBySize(nominalSize(supply.valveSize));
  curved('zone valve', valve && zoneValveCurve(valve, valvePattern(supply.valveType)));
  return { devices, leftOut };
}

function isNone(written: string | null): boolean {
  return written !== null && /^(?:none|no)$/i.test(written.trim());
}

function lossCurve(points: readonly LossPoint[]): LossCurve {
  return {
    flowM3s: Float64Array.from(points, ({ flowLph }) => lphToM3s(flowLph)),
    lossM: Float64Array.from(points, ({ lossKpa }) => kpaToHead(lossKpa)),
  };
}
