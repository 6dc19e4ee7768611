import { FILTERS, filterById, type Filter } from '../../catalog/index.ts';
import { PSI_KPA } from '../../base/units.ts';
import { calledAs } from '../network/notices.ts';
import type { Fix, Notice } from '../results.ts';
import { isAbove, twoFigures } from '../wording.ts';
import type { Check, CheckInput, Limit, Rule } from './check.ts';

const MESH: Limit = {
  key: 'filter-mesh.least',
  label: 'Mesh of the filter at least',
  kind: 'count',
  usual: 150,
  least: 20,
  most: 400,
  source:
    'common practice for drip on municipal water: 150 to 200 mesh (155 to 200 by a landscape contractor, 200 by a drip design course)',
};
const LOSS: Limit = {
  key: 'filter-flow-high.loss',
  label: 'Loss of a clean filter',
  kind: 'pressure',
  usual: 3 * PSI_KPA,
  least: 0.5 * PSI_KPA,
  most: 20 * PSI_KPA,
  source: 'common practice: 3 psi or less clean',
};

/** Loss of a clean filter at a flow, kPa; it grows with the square of the flow (common practice). */
const cleanLossKpa = ({ cleanLossKpa: rated, ratedFlowLph }: Filter, flowLph: number): number =>
  rated * (flowLph / ratedFlowLph) ** 2;

/** A filter that loses much when clean has little left for dirt. */
export const filterFlow: Check = (input) => {
  const { plan, results, units, limit } = input;
  const mostKpa = limit(LOSS);
  return results.zones.flatMap((zone): Notice[] => {
    const control = zone.owner.table === 'controls' ? plan.controls.get(zone.owner.id) : undefined;
    if (!control || zone.outletCount === 0 || !(zone.flowLph > 0)) return [];
    const filter = filterById(control.filter) ?? FILTERS[0]!;
    const flowLph = mostFlowLph(filter, mostKpa);
    if (!isAbove(zone.flowLph, flowLph)) return [];
    const [passes, rated] = twoFigures('zoneFlow', zone.flowLph, flowLph, units);
    const [loses, most] = twoFigures('pressure', cleanLossKpa(filter, zone.flowLph), mostKpa, units);
    return [
      {
        rule: 'filter-flow-high',
        severity: 'warning',
        message: `${calledAs('Control set', control)} passes ${passes}, more than the ${rated} that its filter takes: clean it loses ${loses} at that flow, and ${most} is the most. Choose a larger filter, or divide the zone.`,
        refs: [{ table: 'controls', id: control.id }],
        source: filter.source,
        ...otherFilter(input, control.id, zone.flowLph),
      },
    ];
  });
};

function mostFlowLph({ ratedFlowLph, cleanLossKpa: rated }: Filter, mostKpa: number): number {
  return ratedFlowLph * Math.sqrt(mostKpa / rated);
}

/** Coarse filters let through what clogs emitters. */
const filterMesh: Check = (input) => {
  const { plan, results, limit } = input;
  const least = limit(MESH);
  return [...plan.controls].flatMap((control): Notice[] => {
    const filter = filterById(control.filter) ?? FILTERS[0]!;
    const zone = results.zones.find(({ owner }) => owner.table === 'controls' && owner.id === control.id);
    if (filter.mesh >= least || !zone || zone.outletCount === 0) return [];
    return [
      {
        rule: 'filter-mesh',
        severity: 'warning',
        message: `The filter of ${calledAs('control set', control)} has ${filter.mesh} mesh, coarser than the ${least} mesh that the emitters behind it need: choose a finer one.`,
        refs: [{ table: 'controls', id: control.id }],
        source: MESH.source,
        ...otherFilter(input, control.id, zone.flowLph),
      },
    ];
  });
};

/** The coarsest filter that is fine enough and takes the flow; without one there is no fix. */
function otherFilter({ limit }: CheckInput, controlId: string, flowLph: number): { readonly fix?: Fix } {
  const mesh = limit(MESH);
  const mostKpa = limit(LOSS);
  const fit = FILTERS.filter(
    (filter) => filter.mesh >= mesh && !(flowLph > mostFlowLph(filter, mostKpa)),
  ).toSorted((a, b) => a.mesh - b.mesh)[0];
  if (!fit) return {};
  return {
    fix: {
      label: `Use a ${fit.name}`,
      changes: [{ kind: 'set', table: 'controls', ids: [controlId], fields: { filter: fit.id } }],
    },
  };
}

export const filterMeshRule: Rule = {
  number: 11,
  title: 'Filter fine enough for the emitters',
  says: ['filter-mesh'],
  severity: 'warning',
  limits: [MESH],
  source: MESH.source,
  check: filterMesh,
};

export const filterFlowRule: Rule = {
  number: 12,
  title: 'Loss of the clean filter',
  says: ['filter-flow-high'],
  severity: 'warning',
  limits: [LOSS],
  source: LOSS.source,
  check: filterFlow,
};
