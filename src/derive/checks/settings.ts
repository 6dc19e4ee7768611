import { formatQuantity } from '../../base/quantity.ts';
import { REGULATORS, regulatorById } from '../../catalog/index.ts';
import { headToKpa } from '../../hydraulics/index.ts';
import type { ControlSet } from '../../plan/records.ts';
import type { Fix, PlacedControl } from '../results.ts';
import type { CheckInput } from './check.ts';
import { fedBy } from './fed-by.ts';

type Offer = { readonly fix?: Fix };

/** Settings that a control set's regulator is sold with, kPa, from low to high. */
export function settingsOf(control: ControlSet): readonly number[] {
  return (regulatorById(control.regulator) ?? REGULATORS[0]!).settingsKpa.toSorted((a, b) => a - b);
}

/** A press that sets one control set to another pressure, kPa. */
export function setTo(control: ControlSet, setKpa: number, units: CheckInput['units']): Offer {
  return {
    fix: {
      label: `Set to ${formatQuantity('pressure', setKpa, units)}`,
      changes: [{ kind: 'set', table: 'controls', ids: [control.id], fields: { setKpa } }],
    },
  };
}

/**
 * The highest setting at or below a pressure, where all outlets behind the control set keep what they need; else none.
 * @param mostKpa what the setting may be at most, kPa
 */
export function lowerSetting(input: CheckInput, placed: PlacedControl, mostKpa: number): Offer {
  const { plan, planNetwork, results, units } = input;
  const control = plan.controls.get(placed.id);
  if (!control) return {};
  const lower = settingsOf(control)
    .filter((kpa) => kpa <= mostKpa + 1e-6 && kpa < control.setKpa)
    .at(-1);
  if (lower === undefined) return {};
  const { headM } = results.solution;
  const nowKpa = headToKpa(headM[placed.outlet]! - planNetwork.network.nodes.elevationM[placed.outlet]!);
  const fallKpa = Math.max(0, nowKpa - lower);
  const { controlOfOutlet } = fedBy(planNetwork);
  const index = planNetwork.parts.controls.indexOf(placed);
  const keeps = results.outlets.every(
    ({ pressureKpa, minKpa }, i) => controlOfOutlet[i] !== index || pressureKpa - fallKpa >= minKpa,
  );
  return keeps ? setTo(control, lower, units) : {};
}

/**
 * The lowest setting from a pressure on that the supply can hold and that no outlet behind it finds too high; else none.
 * @param leastKpa what the setting must be at least, kPa
 */
export function higherSetting(input: CheckInput, placed: PlacedControl, leastKpa: number): Offer {
  const { plan, planNetwork, results, units } = input;
  const control = plan.controls.get(placed.id);
  if (!control) return {};
  const higher = settingsOf(control).find((kpa) => kpa >= leastKpa - 1e-6 && kpa > control.setKpa);
  if (higher === undefined) return {};
  const { network } = planNetwork;
  const node = network.links.from[placed.regulatorLink]!;
  const inletKpa = headToKpa(results.solution.headM[node]! - network.nodes.elevationM[node]!);
  const { headroomKpa } = regulatorById(control.regulator) ?? REGULATORS[0]!;
  if (!(inletKpa >= higher + headroomKpa)) return {};
  const riseKpa = higher - control.setKpa;
  const { controlOfOutlet } = fedBy(planNetwork);
  const index = planNetwork.parts.controls.indexOf(placed);
  const keeps = results.outlets.every(
    ({ pressureKpa, maxKpa }, i) => controlOfOutlet[i] !== index || !(pressureKpa + riseKpa > maxKpa),
  );
  return keeps ? setTo(control, higher, units) : {};
}
