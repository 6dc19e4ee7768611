import { REGULATORS, regulatorById } from '../../catalog/index.ts';
import type { ControlSet } from '../../plan/records.ts';
import type { RecordChange } from '../results.ts';
import { isAbove } from '../wording.ts';
import type { CheckInput } from './check.ts';
import { fedBy } from './fed-by.ts';
import { regulatorFor } from './regulator-flow.ts';

/** What more emitters ask of the regulators that they hang on. */
export interface DenserFlow {
  /** Larger regulators for control sets whose own would no longer do. */
  readonly changes: readonly RecordChange[];
  /** Control sets for which there is none of their setting, with the flow that they would pass, L/h. */
  readonly beyond: readonly { readonly control: ControlSet; readonly flowLph: number }[];
}

/**
 * Flow through control sets when runs get more emitters, and the regulators for it.
 * @param times by run: how many times as much it will give
 */
export function denserFlow(
  { plan, planNetwork, results }: CheckInput,
  times: ReadonlyMap<string, number>,
): DenserFlow {
  const { controlOfOutlet } = fedBy(planNetwork);
  const more = new Map<number, number>();
  results.outlets.forEach(({ owner, flowLph }, i) => {
    const factor = owner.table === 'runs' ? times.get(owner.id) : undefined;
    const control = controlOfOutlet[i]!;
    if (factor === undefined || control < 0) return;
    more.set(control, (more.get(control) ?? 0) + (factor - 1) * flowLph);
  });
  const changes: RecordChange[] = [];
  const beyond: { control: ControlSet; flowLph: number }[] = [];
  for (const [index, addedLph] of more) {
    const control = plan.controls.get(planNetwork.parts.controls[index]!.id);
    const zone = results.zones.find(({ owner }) => owner.table === 'controls' && owner.id === control?.id);
    if (!control || !zone) continue;
    const flowLph = zone.flowLph + addedLph;
    const { maxFlowLph } = regulatorById(control.regulator) ?? REGULATORS[0]!;
    if (!isAbove(flowLph, maxFlowLph)) continue;
    const larger = regulatorFor(control, flowLph);
    if (!larger) beyond.push({ control, flowLph });
    else
      changes.push({ kind: 'set', table: 'controls', ids: [control.id], fields: { regulator: larger.id } });
  }
  return { changes, beyond };
}
