import { plantDefaults } from '../../catalog/plants.ts';
import type { Plant, PlantClass, WaterUse } from '../records.ts';
import { notMeasured, type Fields, type SurveyContext } from './fields.ts';
import type { Found } from './keep.ts';

const CLASSES: Readonly<Record<string, PlantClass>> = {
  tree: 'tree',
  palm: 'tree',
  shrub: 'shrub',
  bush: 'shrub',
  hedge: 'shrub',
  vine: 'shrub',
  perennial: 'perennial',
  annual: 'perennial',
  grass: 'perennial',
  ornamentalgrass: 'perennial',
  herb: 'perennial',
  groundcover: 'groundcover',
  cover: 'groundcover',
};

const WATER: Readonly<Record<string, WaterUse>> = {
  high: 'high',
  moderate: 'moderate',
  medium: 'moderate',
  low: 'low',
  verylow: 'very low',
};

/** Plants: class, mature canopy diameter, water-use class where known, place. */
export function readPlants(value: unknown, context: SurveyContext): Found<Plant>[] {
  const found: Found<Plant>[] = [];
  for (const item of context.items(value, 'plants')) {
    const fields = context.fields(item.value, item.where);
    if (!fields) continue;
    const at = fields.at();
    const plantClass = readClass(fields);
    const mature = fields.size('canopy', 'canopymature', 'mature', 'maturecanopy', 'canopydiameter');
    if (mature === null) {
      context.once(
        `canopy of ${plantClass}`,
        item.where,
        `the mature canopy of one ${plantClass} or more is not measured`,
        `A usual ${plantClass} of ${plantDefaults(plantClass).canopyMatureM} m is assumed: set it in the plan.`,
      );
    }
    const record = {
      id: fields.text('id') ?? `P${found.length + 1}`,
      name: fields.text('key', 'name', 'species', 'kind') ?? '',
      plantClass,
      canopyNowM: fields.size('canopynow', 'now', 'canopytoday'),
      canopyMatureM: mature ?? plantDefaults(plantClass).canopyMatureM,
      rootBallM: fields.size('rootball', 'rootballdiameter'),
      waterUse: readWaterUse(fields),
    };
    fields.close();
    if (at) found.push({ where: item.where, record: { ...record, at } });
    else
      context.notices.add(
        item.where,
        'the plant has no place',
        'It was left out: put it on the plan by hand.',
      );
  }
  return found;
}

function word(text: string): string {
  return text.toLowerCase().replace(/[\s_-]/g, '');
}

function readClass(fields: Fields): PlantClass {
  const text = fields.text('class', 'plantclass', 'type');
  const known = text === null ? undefined : CLASSES[word(text).replace(/(?<!s)s$/, '')];
  if (known) return known;
  fields.context.once(
    `class ${text}`,
    fields.place('class'),
    text === null ? 'the class of one plant or more is not known' : `"${text}" is not a plant class`,
    'It is taken as a shrub: choose tree, shrub, perennial or groundcover.',
  );
  return 'shrub';
}

function readWaterUse(fields: Fields): WaterUse | null {
  const value = fields.take('water', 'wateruse', 'wateruseclass');
  if (notMeasured(value)) return null;
  const known = typeof value === 'string' ? WATER[word(value)] : undefined;
  if (known) return known;
  fields.fault(
    'water',
    value,
    'must be high, moderate, low or very low',
    'It counts as not known: choose it again.',
  );
  return null;
}
