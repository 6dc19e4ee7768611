import { PLAN_VERSION } from './migrate.ts';
import { TABLES, type Plan } from './records.ts';

/** What a plan file calls itself. */
export const PLAN_FORMAT = 'dripwright-plan';

/** The picture of a site photo, as a file carries it. */
export interface Picture {
  /** `image/jpeg`, `image/png` and the like. */
  readonly mediaType: string;
  readonly base64: string;
}

/**
 * The text of a plan file: JSON, one record a line so that two copies compare well, all values in SI units as
 * docs/plan-format.md tells. The picture goes last; `null` leaves it out, e.g. where it is kept apart.
 * A number that is not finite becomes `null`, as JSON has no word for it.
 */
export function writePlan(plan: Plan, picture: Picture | null): string {
  const parts = [
    line('format', PLAN_FORMAT),
    line('version', PLAN_VERSION),
    line('site', plan.site),
    line('photo', plan.photo),
    line('water', plan.water),
    line('controller', plan.controller),
    line('soil', plan.soil),
    line('climate', plan.climate),
    line('planting', plan.planting),
    line('practice', plan.practice),
    line('checks', plan.checks),
    ...TABLES.map((table) => list(table, plan[table])),
    line('picture', picture && { mediaType: picture.mediaType, base64: picture.base64 }),
  ];
  return `{\n${parts.join(',\n')}\n}\n`;
}

function line(name: string, value: unknown): string {
  return ` ${JSON.stringify(name)}: ${JSON.stringify(value)}`;
}

function list(name: string, records: Iterable<unknown>): string {
  const rows = Array.from(records, (record) => `  ${JSON.stringify(record)}`);
  return ` ${JSON.stringify(name)}: ${rows.length ? `[\n${rows.join(',\n')}\n ]` : '[]'}`;
}
