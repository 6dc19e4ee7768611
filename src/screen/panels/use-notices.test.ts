import { expect, test } from 'vitest';
import { acceptEdit, LIMITS, limitEdit } from '../../derive/checks/index.ts';
import { changePart } from '../../plan/edits/index.ts';
import { emptyPlan } from '../../plan/empty.ts';
import { alikeButWaivers } from './use-notices.ts';

test('plans are alike whatever they accept, and differ by anything that a rule looks at', () => {
  const plan = emptyPlan();
  const accepted = acceptEdit({ rule: 'x', refs: [], reason: 'r', by: '' }).apply(plan);
  expect(alikeButWaivers(plan, accepted)).toBe(true);
  expect(alikeButWaivers(plan, changePart('', 'site', { name: 'Yard' }).apply(plan))).toBe(false);
  const [limit, other] = LIMITS;
  const limited = limitEdit(limit!, limit!.least).apply(accepted);
  expect(alikeButWaivers(plan, limited)).toBe(false);
  expect(alikeButWaivers(limited, limitEdit(limit!, limit!.least).apply(plan))).toBe(true);
  expect(alikeButWaivers(limited, limitEdit(other!, other!.least).apply(plan))).toBe(false);
  expect(alikeButWaivers(limited, limitEdit(limit!, null).apply(limited))).toBe(false);
});
