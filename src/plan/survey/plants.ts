import { plantDefaults } from '../../catalog/plants.ts';
import { checked } from '../check.ts';
import { kindOfPlant, oneLineEach } from '../plant-list/kinds.ts';
import { plantClassNamed, waterUseNamed } from '../plant-list/words.ts';
import type { Plant, PlantClass, PlantKind, WaterUse } from '../records.ts';
import { plantKind } from '../schema.ts';
import { notMeasured, type Fields, type SurveyContext } from './fields.ts';
import type { Found } from './keep.ts';

/** Plants with a place, and kinds of plants that are only counted. */
export interface FoundPlants {
  readonly plants: Found<Plant>[];
  readonly kinds: PlantKind[];
}

/**
 * Plants: class, mature canopy diameter, water-use class where known, place. One without a place is a kind of the plant
 * list with its count, if it is counted. A count above one beside a place is the count of the kind: one place holds
 * one plant.
 */
export function readPlants(value: unknown, context: SurveyContext): FoundPlants {
  const plants: Found<Plant>[] = [];
  const kinds: PlantKind[] = [];
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
      id: fields.text('id') ?? `P${plants.length + 1}`,
      name: fields.text('key', 'name', 'species', 'kind') ?? '',
      plantClass,
      canopyNowM: fields.size('canopynow', 'now', 'canopytoday', 'canopycurrent'),
      canopyMatureM: mature ?? plantDefaults(plantClass).canopyMatureM,
      rootBallM: fields.size('rootball', 'rootballdiameter'),
      waterUse: readWaterUse(fields),
    };
    const count = readCount(fields);
    fields.close();
    if (at) plants.push({ where: item.where, record: { ...record, at } });
    if (at && (count === null || count === 1)) continue;
    const kind = checked(plantKind, { ...kindOfPlant(record), count }, item.where);
    if (kind.ok) kinds.push(kind.value);
    if (!kind.ok) {
      if (!at) context.notices.add(kind.where, kind.what, 'The plant was left out: add it by hand.');
    } else if (at) {
      context.notices.add(
        item.where,
        `the plant has a place and a count of ${count}; one place holds one plant`,
        'One stands there, the count is in the plant list: place the others by hand.',
      );
    } else if (count === null) {
      context.notices.add(
        item.where,
        'the plant has no place',
        'Its kind is in the plant list: put it on the plan by hand.',
      );
    }
  }
  return { plants, kinds: oneLineEach(kinds).kinds };
}

function readCount(fields: Fields): number | null {
  const count = fields.number('count', 'quantity', 'qty');
  if (count === null || (Number.isInteger(count) && count >= 0 && count <= 1e6)) return count;
  fields.fault('count', count, 'must be a whole number from 0', 'It counts as not known: type it again.');
  return null;
}

function readClass(fields: Fields): PlantClass {
  const text = fields.text('class', 'plantclass', 'type');
  const known = text === null ? undefined : plantClassNamed(text);
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
  const known = typeof value === 'string' ? waterUseNamed(value) : undefined;
  if (known) return known;
  fields.fault(
    'water',
    value,
    'must be high, moderate, low or very low',
    'It counts as not known: choose it again.',
  );
  return null;
}
