import { difference, intersection, NOWHERE, regionArea, union, type Region } from '../../../base/clip.ts';
import { memo } from '../../../base/memo.ts';
import type { Point } from '../../../base/point.ts';
import type { Head, HeadPattern, Plan } from '../../../plan/records.ts';
import { surveyedZones, type ExistingZone } from '../zones.ts';
import { patternArea, patternRegion } from './pattern.ts';
import { reached, standsIn, type Throw } from './shadow.ts';
import { bedShares } from './shares.ts';
import { surfacesOf, type Surfaces } from './surfaces.ts';

export { patternArea, patternOutline } from './pattern.ts';

/**
 * What one head wets, m2: its pattern's area, which is the sum of the other five. `onWallM2` is the part that a
 * building stops: its ground and what lies behind it.
 */
export interface HeadCoverage {
  readonly id: string;
  readonly zone: string | null;
  readonly waters: Head['waters'];
  readonly flowLph: number | null;
  readonly areaM2: number;
  readonly onBedM2: number;
  readonly onPavingM2: number;
  readonly onLawnM2: number;
  readonly onWallM2: number;
  readonly elsewhereM2: number;
  /** All that does not fall on what the head is there for: bed, or lawn for a head of the lawn; m2 and share 0..1. */
  readonly oversprayM2: number;
  readonly oversprayShare: number;
}

export interface BedCoverage {
  readonly id: string;
  /** Less paving and buildings on it, m2. */
  readonly areaM2: number;
  /** Share 0..1 of the bed that at least one head reaches. */
  readonly coveredShare: number;
  /** Mean depth in an hour with all heads running, mm/h; `null` where no head with a known flow reaches it. */
  readonly rateMmPerH: number | null;
  /** Heads that reach it. */
  readonly headIds: readonly string[];
}

export interface ZoneCoverage {
  readonly zone: string | null;
  /** Sum over its heads with a measured flow, L/h; `null` when none is. */
  readonly flowLph: number | null;
  /** The part of the beds that belongs to it: where its heads are the nearest, m2. */
  readonly bedAreaM2: number;
  /** Flow of its heads for beds over that area, mm/h: the usual figure of the trade; `null` without either. */
  readonly rateMmPerH: number | null;
  /** Ground that its heads wet, each place once, m2. */
  readonly wettedM2: number;
  /** The wetted ground that is not what the head is there for, each place once, without walls; m2. */
  readonly oversprayM2: number;
  /**
   * Share 0..1 of the zone's water that misses: each head's flow spread evenly over its pattern, walls included. By
   * area where no flow is known; `null` without a pattern.
   */
  readonly oversprayShare: number | null;
  /** Shares 0..1 of the same water, by where it falls; they add up to 1. */
  readonly shares: WaterShares | null;
  readonly headsWithoutPattern: readonly string[];
  readonly headsWithoutFlow: readonly string[];
}

export interface WaterShares {
  readonly bed: number;
  readonly paving: number;
  readonly lawn: number;
  readonly wall: number;
  readonly elsewhere: number;
}

/** Where the water of the old heads falls. */
export interface Coverage {
  readonly heads: ReadonlyMap<string, HeadCoverage>;
  readonly beds: readonly BedCoverage[];
  readonly zones: readonly ZoneCoverage[];
  /** Over all zones; its `zone` is null. */
  readonly total: ZoneCoverage;
  /** The ground of `total.oversprayM2`, for drawing. */
  readonly overspray: Region;
  /** Heads whose pattern is not known, or does not tell a direction. */
  readonly headsWithoutPattern: readonly string[];
  /** Heads drawn inside a building, whose walls then do not stop them. */
  readonly headsInBuildings: readonly string[];
}

/**
 * Ground wetted by each head and by the zones, on beds, paving, lawn, walls and elsewhere. Patterns are polygons with
 * the pattern's own area; overlaps of areas are settled as in `surfacesOf`. Remembered while areas, heads,
 * old pipes and supplies are the same but for what is to become of them.
 */
export function coverageOf(plan: Pick<Plan, 'areas' | 'heads' | 'laterals' | 'supplies'>): Coverage {
  return remembered(plan.areas, surveyedZones(plan));
}

const remembered = memo((areas: Plan['areas'], zones: readonly ExistingZone[]): Coverage =>
  compute(surfacesOf({ areas }), zones),
);

/** A head with the ground that it wets. */
interface Wetting {
  readonly head: Head;
  readonly figures: HeadCoverage;
  /** What it reaches, of this the beds, and what misses. */
  readonly ground: Region;
  readonly bed: Region;
  readonly missed: Region;
}

function compute(surfaces: Surfaces, zones: readonly ExistingZone[]): Coverage {
  const shares = bedShares(zones, surfaces);
  const byZone = zones.map((zone) => ({
    zone,
    wettings: zone.heads.flatMap((head) => wettingOf(head, zone.zone, surfaces) ?? []),
  }));
  const all = byZone.flatMap(({ wettings }) => wettings);
  const bedAreaM2 = regionArea(surfaces.bed);
  const heads = zones.flatMap((zone) => zone.heads);
  const missed = union(all.map((wetting) => wetting.missed));
  const total = zoneFigures({ zone: null, heads }, all, bedAreaM2, missed);
  return {
    heads: new Map(all.map(({ figures }) => [figures.id, figures])),
    beds: surfaces.beds.map((bed) => bedFigures(bed, all, surfaces.beds.length === 1)),
    zones:
      byZone.length === 1
        ? [{ ...total, zone: zones[0]!.zone }]
        : byZone.map(({ zone, wettings }) =>
            zoneFigures(
              zone,
              wettings,
              shares.get(zone.zone)?.areaM2 ?? 0,
              union(wettings.map((wetting) => wetting.missed)),
            ),
          ),
    total,
    overspray: missed,
    headsWithoutPattern: total.headsWithoutPattern,
    headsInBuildings: heads
      .filter(({ at }) => surfaces.buildings.some((building) => standsIn(at, building)))
      .map(({ id }) => id),
  };
}

function wettingOf(head: Head, zone: string | null, surfaces: Surfaces): Wetting | null {
  const { at, pattern } = head;
  if (!pattern) return null;
  const areaM2 = patternArea(pattern);
  const whole = patternRegion(at, pattern);
  if (whole.length === 0 || !(areaM2 > 0)) return null;
  const ground = reached(whole, throwOf(at, pattern), surfaces.buildings);
  const bed = intersection(ground, surfaces.bed);
  const lawn = intersection(ground, surfaces.lawn);
  const onBedM2 = regionArea(bed);
  const onLawnM2 = regionArea(lawn);
  const onPavingM2 = regionArea(intersection(ground, surfaces.paving));
  const onWallM2 = ground === whole ? 0 : Math.max(0, areaM2 - regionArea(ground));
  const elsewhereM2 = Math.max(0, areaM2 - onBedM2 - onLawnM2 - onPavingM2 - onWallM2);
  const [wanted, wantedM2] = head.waters === 'lawn' ? [lawn, onLawnM2] : [bed, onBedM2];
  const oversprayM2 = Math.max(0, areaM2 - wantedM2);
  // Below the micrometre grid of the clipping there is nothing.
  const missed = oversprayM2 <= 1e-6 * areaM2 ? NOWHERE : difference(ground, wanted);
  const { id, waters, flowLph } = head;
  return {
    head,
    ground,
    bed,
    missed,
    figures: {
      id,
      zone,
      waters,
      flowLph,
      areaM2,
      onBedM2,
      onPavingM2,
      onLawnM2,
      onWallM2,
      elsewhereM2,
      oversprayM2,
      oversprayShare: oversprayM2 / areaM2,
    },
  };
}

function throwOf(at: Point, pattern: HeadPattern): Throw {
  // The corners of a sector's polygon lie a hair beyond the radius.
  const reachM =
    1.001 * (pattern.kind === 'sector' ? pattern.radiusM : Math.hypot(pattern.lengthM, pattern.widthM) / 2);
  const isTurned = pattern.kind === 'sector' && Math.abs(pattern.sweepDeg) < 360;
  return { at, reachM, towardDeg: isTurned ? pattern.startDeg + pattern.sweepDeg / 2 : null };
}

function bedFigures(
  bed: Surfaces['beds'][number],
  wettings: readonly Wetting[],
  isOnly: boolean,
): BedCoverage {
  const reach: Region[] = [];
  const headIds: string[] = [];
  let flowLph: number | null = null;
  for (const { figures, bed: onBeds } of wettings) {
    const here = isOnly ? onBeds : intersection(onBeds, bed.region);
    const hereM2 = regionArea(here);
    if (!(hereM2 > 1e-6 * figures.areaM2)) continue;
    reach.push(here);
    headIds.push(figures.id);
    if (figures.flowLph !== null) flowLph = (flowLph ?? 0) + (figures.flowLph * hereM2) / figures.areaM2;
  }
  const covered = reach.length === 0 ? 0 : regionArea(union(reach));
  return {
    id: bed.id,
    areaM2: bed.areaM2,
    coveredShare: bed.areaM2 > 0 ? Math.min(1, covered / bed.areaM2) : 0,
    // 1 L/h on 1 m2 is 1 mm/h by definition of the litre.
    rateMmPerH: flowLph !== null && bed.areaM2 > 0 ? flowLph / bed.areaM2 : null,
    headIds,
  };
}

function zoneFigures(
  { zone, heads }: Pick<ExistingZone, 'zone' | 'heads'>,
  wettings: readonly Wetting[],
  bedAreaM2: number,
  missed: Region,
): ZoneCoverage {
  const measured = heads.filter(({ flowLph }) => flowLph !== null);
  const onBeds = measured.filter(({ waters }) => waters === 'bed');
  const sum = (list: readonly Head[]): number => list.reduce((total, { flowLph }) => total + flowLph!, 0);
  const known = new Set(wettings.map(({ head }) => head.id));
  return {
    zone,
    flowLph: measured.length > 0 ? sum(measured) : null,
    bedAreaM2,
    rateMmPerH: bedAreaM2 > 0 && onBeds.length > 0 ? sum(onBeds) / bedAreaM2 : null,
    wettedM2: regionArea(union(wettings.map(({ ground }) => ground))),
    oversprayM2: regionArea(missed),
    oversprayShare: missedShare(wettings),
    shares: sharesOf(wettings),
    headsWithoutPattern: heads.filter(({ id }) => !known.has(id)).map(({ id }) => id),
    headsWithoutFlow: heads.filter(({ flowLph }) => flowLph === null).map(({ id }) => id),
  };
}

/** What each head counts: its flow; its area where no head with a pattern has a flow. */
function weights(wettings: readonly Wetting[]): number[] {
  const flows = wettings.map(({ figures }) => figures.flowLph ?? 0);
  return flows.some((flow) => flow > 0) ? flows : wettings.map(({ figures }) => figures.areaM2);
}

function weighted(wettings: readonly Wetting[], part: (figures: HeadCoverage) => number): number {
  const list = weights(wettings);
  const whole = list.reduce((total, weight) => total + weight, 0);
  return wettings.reduce(
    (total, { figures }, i) => total + (list[i]! / whole) * (part(figures) / figures.areaM2),
    0,
  );
}

function missedShare(wettings: readonly Wetting[]): number | null {
  return wettings.length === 0 ? null : weighted(wettings, ({ oversprayM2 }) => oversprayM2);
}

function sharesOf(wettings: readonly Wetting[]): WaterShares | null {
  if (wettings.length === 0) return null;
  return {
    bed: weighted(wettings, ({ onBedM2 }) => onBedM2),
    paving: weighted(wettings, ({ onPavingM2 }) => onPavingM2),
    lawn: weighted(wettings, ({ onLawnM2 }) => onLawnM2),
    wall: weighted(wettings, ({ onWallM2 }) => onWallM2),
    elsewhere: weighted(wettings, ({ elsewhereM2 }) => elsewhereM2),
  };
}
