import { bad, good, type Problem, type Result } from '../base/result.ts';
import { Notices, readFields, shown } from './check.ts';
import { emptyPlan } from './empty.ts';
import { isObject, parseJson } from './json.ts';
import type { Plan } from './records.ts';
import { CLIMATE, CONTROLLER, SITE, SOIL, WATER } from './schema.ts';
import { Fields, notMeasured, SurveyContext } from './survey/fields.ts';
import { readAreas, readFalls, readLevels } from './survey/ground.ts';
import { readController } from './survey/controller.ts';
import { readHeads } from './survey/heads.ts';
import { tableOf } from './survey/keep.ts';
import { readPipes } from './survey/pipes.ts';
import { namedPlaces } from './survey/places.ts';
import { readPlants } from './survey/plants.ts';
import { readClimate, readSoil } from './survey/soil.ts';
import { readSupply } from './survey/supply.ts';
import { readUnits } from './survey/units.ts';
import { readWalls } from './survey/walls.ts';

/** What a survey file calls itself, and the version that is read. */
export const SURVEY_FORMAT = 'survey';
export const SURVEY_VERSION = 1;

/** What a survey held. */
export interface SurveyFile {
  readonly plan: Plan;
  /** What was not measured, not understood or left out, with its place in the file. */
  readonly notices: readonly Problem[];
}

/**
 * Reads a survey file (docs/survey-format.md) into a plan in SI units. Refuses text that is not JSON, that is no
 * survey, of a newer version, or whose units are not known. Everything else goes on: missing and "unknown" count
 * as not measured, and what cannot be understood is left out with a notice.
 */
export function readSurvey(text: string): Result<SurveyFile> {
  const parsed = parseJson(text);
  return parsed.ok ? readSurveyValue(parsed.value) : parsed;
}

/** The same for text that is parsed already. */
export function readSurveyValue(value: unknown): Result<SurveyFile> {
  if (!isObject(value) || value['format'] !== SURVEY_FORMAT) {
    const found = isObject(value)
      ? `the format is ${shown(value['format'])}`
      : `the file holds ${shown(value)}`;
    return bad('format', `${found}, not "${SURVEY_FORMAT}"`, 'Choose a survey file.');
  }
  const notices = new Notices();
  const version = value['version'];
  if (notMeasured(version)) {
    notices.add('version', 'the version is missing', `It is read as version ${SURVEY_VERSION}.`);
  } else if (version !== SURVEY_VERSION) {
    return bad(
      'version',
      `the version is ${shown(version)}, and this program reads version ${SURVEY_VERSION}`,
      'Save the survey in that version, or use a newer program.',
    );
  }
  const units = readUnits(value['units']);
  if (!units.ok) return units;
  const context = new SurveyContext(units.value, notices);
  const temperature = isObject(value['units']) ? value['units']['temperature'] : undefined;
  const plan = planOf(new Fields(value, '', context), temperature, context);
  context.reportUnread();
  return good({ plan, notices: notices.list });
}

function planOf(file: Fields, temperatureUnit: unknown, context: SurveyContext): Plan {
  const empty = emptyPlan();
  const places = namedPlaces(file.source, context);
  // `derived` holds figures to compare an import with; they follow from the rest and are not kept.
  file.take('format', 'version', 'units', 'derived');
  const id = file.text('id') ?? '';
  const { water, valves, zoneOfValve } = readSupply(file.take('supply'), places, context);
  const areas = [
    ...readAreas(file.take('beds'), 'beds', 'bed', context),
    ...readAreas(
      file.take('lawns', 'lawn'),
      file.place(file.has('lawn') ? 'lawn' : 'lawns'),
      'lawn',
      context,
    ),
    ...readAreas(file.take('paving'), 'paving', 'paving', context),
    ...readAreas(file.take('buildings'), 'buildings', 'building', context),
    ...readWalls(file.take('walls'), 'walls', context),
  ];
  const site = {
    ...empty.site,
    name: file.text('name') ?? id,
    client: file.text('client') ?? '',
    address: file.text('address') ?? '',
    date: file.text('date') ?? '',
    notes: file.text('note', 'notes') ?? '',
    northDeg: file.number('northDeg', 'north') ?? 0,
  };
  const controller = readController(file.take('controller'), 'controller', context);
  const soil = readSoil(file.take('soil'), file.take('cover'), context);
  const climate = readClimate(file.take('climate'), temperatureUnit, context);
  const plants = readPlants(file.take('plants'), context);
  const { notices } = context;
  const plan: Plan = {
    ...empty,
    // The same bounds as in a plan file, so that what was read can always be saved and read again.
    site: readFields(site, SITE, empty.site, 'site', notices),
    water: readFields(
      water,
      WATER,
      { ...empty.water, workingPoints: water.workingPoints },
      'supply',
      notices,
    ),
    controller: readFields(controller, CONTROLLER, empty.controller, 'controller', notices),
    soil: readFields(soil, SOIL, empty.soil, 'soil', notices),
    climate: readFields(climate, CLIMATE, empty.climate, 'climate', notices),
    areas: tableOf('areas', areas, context),
    levels: tableOf('levels', readLevels(file.take('levels'), context), context),
    falls: tableOf('falls', readFalls(file.take('falls'), context), context),
    planting: { kinds: plants.kinds },
    plants: tableOf('plants', plants.plants, context),
    supplies: tableOf('supplies', valves, context),
    heads: tableOf('heads', readHeads(file.take('heads'), zoneOfValve, context), context),
    laterals: tableOf('laterals', readPipes(file.take('pipes'), places, zoneOfValve, context), context),
  };
  file.close();
  return plan;
}
