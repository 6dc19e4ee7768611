import { backflowHeight, HEIGHT_LIMITS } from './backflow-height.ts';
import { backflowVacuum, HOURS_LIMIT } from './backflow-vacuum.ts';
import type { Rule } from './check.ts';

/** What backflow preventers ask of the system after them. */
export const backflow: Rule = {
  number: 34,
  title: 'Height and hours of the backflow preventer',
  says: ['backflow-height', 'backflow-grade', 'backflow-hours', 'backflow-valve-after'],
  severity: 'error',
  limits: [...Object.values(HEIGHT_LIMITS), HOURS_LIMIT],
  source: 'city backflow ordinances (Paris TX; Gilbert AZ)',
  check: (input) => [...backflowHeight(input), ...backflowVacuum(input)],
};
