import { memo } from '../base/memo.ts';
import type { UnitSystem } from '../base/quantity.ts';
import type { Results } from '../derive/results.ts';
import type { Plan } from '../plan/records.ts';
import { areaMarks } from './areas.ts';
import { dimensionMarks } from './dimensions.ts';
import { contourLabels, contourMarks } from './contours.ts';
import { controlMarks, supplyMarks } from './equipment.ts';
import { headMarks, sectorMarks } from './existing.ts';
import { fallLabels, fallMarks } from './falls.ts';
import { areaLabels, plantLabels, runLabels } from './labels.ts';
import { levelLabels, levelMarks } from './levels.ts';
import { LAYERS, type Layer, type LayerName, type Mark } from './marks.ts';
import { lateralMarks } from './old-pipes.ts';
import type { DrawOptions, Subject } from './options.ts';
import { outletMarks, plainOutletMarks } from './outlets.ts';
import { photoMarks } from './photo.ts';
import { plantMarks } from './plants.ts';
import type { ColourRange } from './pressure-ramp.ts';
import { checkValveMarks, flushEndMarks, linePartMarks } from './run-parts.ts';
import { slopeLabels, slopeMarks } from './slope-classes.ts';
import { emitterNumbers, headTags, jointTags, plantTags } from './tags.ts';
import { feederMarks, runMarks } from './tubing.ts';
import { rootZoneMarks, wettedMarks, wettingOutlets } from './wetted.ts';
import type { WettingOutlet } from '../derive/wetting/index.ts';

/**
 * The way from a plan to its drawing, with a memory: a part is drawn anew only when a table or option that it
 * reads has changed, and a layer whose parts are all the same is the same object as before. Keep one for each
 * view that draws (one for the screen, one for the sheets).
 */
export function planDrawer(): (plan: Plan, results: Results | null, options: DrawOptions) => Layer[] {
  const photo = memo(photoMarks);
  const areas = memo(areaMarks);
  const levels = memo(levelMarks);
  const falls = memo(fallMarks);
  const contours = memo(
    (site: Plan['site'], heights: Plan['levels'], drops: Plan['falls'], table: Plan['areas']) =>
      contourMarks({ site, levels: heights, falls: drops, areas: table }),
  );
  const slopes = memo((heights: Plan['levels'], drops: Plan['falls'], table: Plan['areas']) =>
    slopeMarks({ levels: heights, falls: drops, areas: table }),
  );
  const wetted = memo(
    (
      outletsThere: readonly WettingOutlet[],
      soil: Plan['soil'],
      valves: Plan['supplies'],
      heights: Plan['levels'],
      drops: Plan['falls'],
    ) => wettedMarks({ soil, supplies: valves, levels: heights, falls: drops }, outletsThere),
  );
  const rootsNow = memo(rootZoneMarks);
  const rootsMature = memo(rootZoneMarks);
  const laterals = memo(lateralMarks);
  const sectors = memo(sectorMarks);
  const heads = memo(headMarks);
  const plants = memo(plantMarks);
  const runs = memo(runMarks);
  const feeders = memo(feederMarks);
  const flushEnds = memo(flushEndMarks);
  const checkValves = memo(checkValveMarks);
  const lineParts = memo(linePartMarks);
  const controls = memo(controlMarks);
  const supplies = memo(supplyMarks);
  const outlets = memo((results: Results, minKpa: number, maxKpa: number) =>
    outletMarks(results, Number.isNaN(minKpa) ? null : { minKpa, maxKpa }),
  );
  const plain = memo(plainOutletMarks);
  const named = {
    areas: memo((table: Plan['areas'], names: boolean, sizes: boolean, units: UnitSystem) =>
      areaLabels(table, names, sizes, units),
    ),
    plants: memo(plantLabels),
    runs: memo(runLabels),
    levels: memo(levelLabels),
    falls: memo(fallLabels),
    contours: memo(
      (
        site: Plan['site'],
        heights: Plan['levels'],
        drops: Plan['falls'],
        table: Plan['areas'],
        units: UnitSystem,
      ) => contourLabels({ site, levels: heights, falls: drops, areas: table }, units),
    ),
    slopes: memo((heights: Plan['levels'], drops: Plan['falls'], table: Plan['areas']) =>
      slopeLabels({ levels: heights, falls: drops, areas: table }),
    ),
    dimensions: memo(dimensionMarks),
    plantTags: memo(plantTags),
    headTags: memo(headTags),
    jointTags: memo(jointTags),
    emitterNumbers: memo(emitterNumbers),
  };
  const layers = Object.fromEntries(
    LAYERS.map((name) => [
      name,
      memo((...parts: (readonly Mark[])[]): Layer => ({
        name,
        marks: parts.length === 1 ? parts[0]! : parts.flat(),
      })),
    ]),
  ) as Record<LayerName, (...parts: (readonly Mark[])[]) => Layer>;

  return (plan, results, options) => {
    const when = (subject: Subject, draw: () => readonly Mark[]): readonly Mark[] =>
      options.show.has(subject) ? draw() : NOTHING;
    const range: ColourRange = options.colourRange ?? { minKpa: NaN, maxKpa: NaN };
    const parts: Record<LayerName, (readonly Mark[])[]> = {
      photo: [when('photo', () => photo(plan.photo, options.photoMetresPerPixel))],
      ground: [
        when('areas', () => areas(plan.areas)),
        when('slopes', () => slopes(plan.levels, plan.falls, plan.areas)),
        when('wetted', () =>
          wetted(wettingOutlets(plan, results), plan.soil, plan.supplies, plan.levels, plan.falls),
        ),
        when('contours', () => contours(plan.site, plan.levels, plan.falls, plan.areas)),
        when('levels', () => levels(plan.levels)),
        when('falls', () => falls(plan.falls)),
      ],
      existing: [
        when('sectors', () => sectors(plan.heads)),
        when('laterals', () => laterals(plan.laterals, plan.supplies)),
        when('heads', () => heads(plan.heads)),
      ],
      plants: [
        when('rootZonesNow', () => rootsNow(plan.plants, 'now')),
        when('rootZonesMature', () => rootsMature(plan.plants, 'mature')),
        when('plants', () => plants(plan.plants)),
      ],
      tubing: [
        when('tubing', () => feeders(plan.emitters, plan.runs, results?.outlets ?? null)),
        when('tubing', () => runs(plan.runs)),
        when('tubing', () => checkValves(plan.checkValves, plan.runs)),
        when('tubing', () => lineParts(plan.lineParts, plan.runs)),
        when('tubing', () => flushEnds(plan.flushEnds, plan.runs)),
        when('controls', () => controls(plan.controls, plan.supplies, options.units)),
        when('supplies', () => supplies(plan.supplies, plan.controls)),
      ],
      outlets: [
        when('outlets', () =>
          results ? outlets(results, range.minKpa, range.maxKpa) : plain(plan.runs, plan.emitters),
        ),
      ],
      labels: [
        options.show.has('areaNames') || options.show.has('areaSizes')
          ? named.areas(
              plan.areas,
              options.show.has('areaNames'),
              options.show.has('areaSizes'),
              options.units,
            )
          : NOTHING,
        when('plantNames', () => named.plants(plan.plants)),
        when('runNames', () => named.runs(plan.runs, plan.fills)),
        options.show.has('levels')
          ? when('levelHeights', () => named.levels(plan.levels, options.units))
          : NOTHING,
        when('falls', () => named.falls(plan.falls, options.units)),
        when('contours', () => named.contours(plan.site, plan.levels, plan.falls, plan.areas, options.units)),
        when('slopes', () => named.slopes(plan.levels, plan.falls, plan.areas)),
        when('dimensions', () => named.dimensions(plan.areas, options.units)),
        when('plantTags', () => named.plantTags(plan.plants)),
        when('headTags', () => named.headTags(plan.heads)),
        when('headTags', () => named.jointTags(plan.laterals, plan.heads, plan.supplies)),
        when('emitterNumbers', () => named.emitterNumbers(plan.emitters, results?.outlets ?? null)),
      ],
    };
    return LAYERS.map((name) => layers[name](...parts[name]));
  };
}

const NOTHING: readonly Mark[] = [];

/**
 * The drawing of a plan as layers from below to above, always all of `LAYERS`. Without results outlets are drawn
 * open and feeders straight to their run. Repeated calls redraw only what changed.
 */
export const drawPlan = planDrawer();
