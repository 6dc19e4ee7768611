import { FILTERS, filterById, REGULATORS, regulatorById } from '../../catalog/index.ts';
import { LINK } from '../../hydraulics/network.ts';
import { kpaToHead } from '../../hydraulics/index.ts';
import type { ControlSet } from '../../plan/records.ts';
import type { PlacedControl } from '../results.ts';
import type { NetworkDraft } from './network-draft.ts';
import { calledAs, type Notices } from './notices.ts';
import { squareCurve } from './supply-curve.ts';

/** Puts filter and regulator of a control set into the network; unknown catalog ids are told and replaced. */
export function placeControl(
  control: ControlSet,
  { inlet, outlet, zM }: { readonly inlet: number; readonly outlet: number; readonly zM: number },
  fed: boolean,
  draft: NetworkDraft,
  notices: Notices,
): PlacedControl {
  const ref = { table: 'controls', id: control.id } as const;
  const unknown = (what: string, id: string, standIn: string): void =>
    notices.add(
      'unknown-control-part',
      'warning',
      `The ${what} "${id}" of ${calledAs('control set', control)} is not in the catalog; "${standIn}" is taken. Choose it again.`,
      ref,
    );
  const filter = filterById(control.filter) ?? FILTERS[0]!;
  if (!filterById(control.filter)) unknown('filter', control.filter, filter.name);
  const regulator = regulatorById(control.regulator) ?? REGULATORS[0]!;
  if (!regulatorById(control.regulator)) unknown('regulator', control.regulator, regulator.name);
  let { setKpa } = control;
  if (!(setKpa > 0)) {
    setKpa = regulator.settingsKpa[0]!;
    notices.add(
      'control-setting',
      'warning',
      `${calledAs('Control set', control)} has no set pressure; the lowest usual one is taken. Type it.`,
      ref,
    );
  }
  const between = draft.node(zM);
  const filterLink = draft.link(
    {
      kind: LINK.loss,
      from: inlet,
      to: between,
      curve: draft.lossCurve(squareCurve(filter.ratedFlowLph, filter.cleanLossKpa)),
    },
    ref,
    control.at,
    control.at,
  );
  const regulatorLink = draft.link(
    {
      kind: LINK.regulator,
      from: between,
      to: outlet,
      settingM: kpaToHead(setKpa),
      // Wide open it takes its headroom at the top of its flow range, less at lower flow (common practice).
      curve: draft.lossCurve(squareCurve(regulator.maxFlowLph, regulator.headroomKpa)),
    },
    ref,
    control.at,
    control.at,
  );
  return { id: control.id, inlet, outlet, filterLink, regulatorLink, fed };
}
