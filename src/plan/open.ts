import { bad, good, type Problem, type Result } from '../base/result.ts';
import { shown } from './check.ts';
import { isObject, parseJson } from './json.ts';
import { readPlanValue } from './read.ts';
import type { Plan } from './records.ts';
import { readSurveyValue, SURVEY_FORMAT } from './survey.ts';
import { PLAN_FORMAT, type Picture } from './write.ts';

/** What a file held, whichever kind it was. */
export interface Opened {
  readonly kind: 'plan' | 'survey';
  readonly plan: Plan;
  readonly picture: Picture | null;
  readonly notices: readonly Problem[];
}

/** Opens the text of a plan file or of a survey file, told apart by `format`; anything else is refused by name. */
export function openAnything(text: string): Result<Opened> {
  const parsed = parseJson(text);
  if (!parsed.ok) return parsed;
  const { value } = parsed;
  const format = isObject(value) && Object.hasOwn(value, 'format') ? value['format'] : undefined;
  if (format === PLAN_FORMAT) {
    const read = readPlanValue(value);
    return read.ok ? good({ kind: 'plan', ...read.value }) : read;
  }
  if (format === SURVEY_FORMAT) {
    const read = readSurveyValue(value);
    return read.ok ? good({ kind: 'survey', picture: null, ...read.value }) : read;
  }
  return bad('format', foreign(value, format), 'Choose a plan file or a survey file.');
}

function foreign(value: unknown, format: unknown): string {
  const wanted = `neither "${PLAN_FORMAT}" nor "${SURVEY_FORMAT}"`;
  if (format !== undefined) return `the format is ${shown(format)}, ${wanted}`;
  if (!isObject(value)) return `the file holds ${Array.isArray(value) ? 'a list' : shown(value)}, ${wanted}`;
  const keys = Object.keys(value);
  const named = keys
    .slice(0, 6)
    .map((key) => `"${key.slice(0, 30)}"`)
    .join(', ');
  const more = keys.length > 6 ? ` and ${keys.length - 6} more` : '';
  return keys.length
    ? `the file names no format; it holds ${named}${more}, ${wanted}`
    : 'the file is an empty object';
}
