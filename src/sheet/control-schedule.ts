import type { UnitSystem } from '../base/quantity.ts';
import { filterById, regulatorById } from '../catalog/index.ts';
import type { Results } from '../derive/results.ts';
import type { Plan } from '../plan/records.ts';
import { shower } from './show.ts';
import type { Row, Schedule } from './table.ts';
import { WORDS } from './words.ts';

/** One line for each filter and regulator set; the regulator is named by the flows that it is made for. */
export function controlSchedule(plan: Plan, results: Results | null, units: UnitSystem): Schedule {
  const show = shower(units);
  const words = WORDS.control;
  const filterName = (id: string): string => {
    const filter = filterById(id);
    if (!filter) return id;
    return units === 'us' ? filter.name : words.opening(filter.name, filter.openingMicron);
  };
  const regulatorName = (id: string): string => {
    const regulator = regulatorById(id);
    return regulator ? show.span('zoneFlow', [regulator.minFlowLph, regulator.maxFlowLph]) : id;
  };
  const rows = plan.controls.toArray().map((control): Row => {
    const zone = results?.zones.find(({ owner }) => owner.table === 'controls' && owner.id === control.id);
    return {
      cells: [
        control.name || WORDS.none,
        filterName(control.filter),
        regulatorName(control.regulator),
        show.pressure(control.setKpa),
        show.pressure(zone?.inletKpa ?? NaN),
        show.zoneFlow(zone?.flowLph ?? NaN),
        zone ? String(zone.outletCount) : WORDS.none,
      ],
    };
  });
  return {
    title: WORDS.controls,
    ...(results && { note: WORDS.pressures }),
    columns: [
      { head: words.name, align: 'left' },
      { head: words.filter, align: 'left' },
      { head: words.regulator, align: 'left' },
      { head: words.setting, align: 'right' },
      { head: words.inlet, align: 'right' },
      { head: words.flow, align: 'right' },
      { head: words.outlets, align: 'right' },
    ],
    rows,
  };
}
