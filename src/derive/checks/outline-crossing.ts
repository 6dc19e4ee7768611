import { selfCrossings } from '../../base/polygon.ts';
import type { Area } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { counted } from '../wording.ts';
import type { Check, Rule } from './check.ts';

const CALLED = { bed: 'Bed', paving: 'Paving', lawn: 'Lawn', building: 'Building' } as const;

/** An outline that crosses itself has no sure area. */
export const outlineCrossing: Check = ({ plan }) =>
  [...plan.areas].flatMap((area): Notice[] => {
    const places = crossingsOf(area);
    if (places === 0) return [];
    return [
      {
        rule: 'outline-crossing',
        severity: 'warning',
        message: `${CALLED[area.use]} ${called(area)} has an outline that crosses itself in ${counted(places, 'place')}, so its area is not sure: move its corners.`,
        refs: [{ table: 'areas', id: area.id }],
      },
    ];
  });

const known = new WeakMap<Area, number>();

/** Counted once for an area: an edit replaces the areas that it changes. */
function crossingsOf(area: Area): number {
  const before = known.get(area);
  if (before !== undefined) return before;
  const rings = [area.outline, ...area.holes];
  const places = rings.reduce((sum, ring) => sum + selfCrossings(ring).length, 0);
  known.set(area, places);
  return places;
}

export const outlineCrossingRule: Rule = {
  number: null,
  title: 'Outlines that do not cross themselves',
  says: ['outline-crossing'],
  severity: 'warning',
  limits: [],
  source: 'common practice',
  check: outlineCrossing,
};
