import { pipeMaterial } from '../existing/pipe-bore.ts';
import { called } from '../network/notices.ts';
import { agree, counted, listed } from '../wording.ts';
import type { Rule } from './check.ts';

const SOURCE =
  'Sunset magazine, Changing from sprinklers to drip (1987): leave old steel pipe, it sheds flakes';

/** Flow below which a pipe counts as still, m3/s: far under one drop a second. */
const STILL_M3S = 1e-9;

/** Old steel that carries the drip's water: decided to, or with flow in the results. */
export const tieInGalvanised: Rule = {
  number: 32,
  title: 'Steel pipe before the drip',
  says: ['tie-in-galvanised'],
  severity: 'error',
  limits: [],
  source: SOURCE,
  check: ({ plan, planNetwork, results }) => {
    const steel = [...plan.laterals].filter(
      ({ material, fate }) =>
        material !== null && fate !== 'cut off' && pipeMaterial(material) === 'galvanised steel',
    );
    if (steel.length === 0) return [];
    const flowing = new Set<string>();
    planNetwork.pieces.forEach(({ owner }, link) => {
      const flowM3s = results.solution.flowM3s[link] ?? 0;
      if (owner.table === 'laterals' && Math.abs(flowM3s) > STILL_M3S) flowing.add(owner.id);
    });
    const wet = steel.filter(({ id, fate }) => fate === 'live' || flowing.has(id));
    if (wet.length === 0) return [];
    const ends = new Set(wet.flatMap(({ from, to }) => [from, to]));
    const tieIns = [...plan.heads].filter(({ id, fate }) => fate === 'tie-in' && ends.has(id));
    return [
      {
        rule: 'tie-in-galvanised',
        severity: 'error',
        message: `${counted(wet.length, 'piece')} of galvanised steel (${listed(wet.map(({ from, to }) => `${from} to ${to}`))}) ${agree(wet.length, 'carries', 'carry')} the drip’s water${tieIns.length > 0 ? `, up to the tie-in ${listed(tieIns.map((head) => called(head)))}` : ''}: old steel sheds flakes that clog emitters. Run new pipe from the valve, or tie in where no steel lies before the drip.`,
        refs: [
          ...wet.map(({ id }) => ({ table: 'laterals', id }) as const),
          ...tieIns.map(({ id }) => ({ table: 'heads', id }) as const),
        ],
        source: SOURCE,
      },
    ];
  },
};
