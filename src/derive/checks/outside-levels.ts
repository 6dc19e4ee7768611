import type { ControlSet, Ref, Supply } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';
import { calledAs } from '../network/notices.ts';
import { agree, capitalised, listed } from '../wording.ts';
import type { Check, Rule } from './check.ts';

/** Heights beyond the levels are carried on, which may be far off where the ground bends. */
export const outsideLevels: Check = ({ plan }) => {
  const ground = groundOf(plan);
  // Around a single level the ground is level: nothing is carried on.
  if (ground.knows !== 'slope') return [];
  const isOutside = ({ at }: Supply | ControlSet): boolean => ground.heightAt(at).how === 'outside';
  const supplies = [...plan.supplies].filter((supply) => supply.zM === null && isOutside(supply));
  // A control set on a supply has that one's height.
  const controls = [...plan.controls].filter(
    (control) =>
      isOutside(control) &&
      ![...plan.supplies].some(({ at }) => at[0] === control.at[0] && at[1] === control.at[1]),
  );
  const count = supplies.length + controls.length;
  if (count === 0) return [];
  const names = [
    ...supplies.map((supply) => `${calledAs('supply', supply)}`),
    ...controls.map((control) => `${calledAs('control set', control)}`),
  ];
  const text = listed(names);
  return [
    {
      rule: 'outside-levels',
      severity: 'info',
      message: `${capitalised(text)} ${agree(count, 'lies', 'lie')} outside the measured levels: ${agree(count, 'its height is', 'their heights are')} carried on from the nearest slope. Measure a level there.`,
      refs: [
        ...supplies.map(({ id }): Ref => ({ table: 'supplies', id })),
        ...controls.map(({ id }): Ref => ({ table: 'controls', id })),
      ],
    },
  ];
};

export const outsideLevelsRule: Rule = {
  number: null,
  title: 'Valve and control sets within the measured levels',
  says: ['outside-levels'],
  severity: 'info',
  limits: [],
  source: 'common practice: valve, control set and low point are levelled',
  check: outsideLevels,
};
