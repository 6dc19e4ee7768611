import { useMemo, type ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import type { Coverage, ZoneCoverage } from '../../../derive/existing/coverage/index.ts';
import { existingOf } from '../../../derive/existing/index.ts';
import { lateralsOf, type ZoneLateral } from '../../../derive/existing/lateral/index.ts';
import type { ZoneVerdict } from '../../../derive/existing/verdict/index.ts';
import { bedSlope, intakeOf } from '../../../derive/soil/index.ts';
import { shownSource } from '../../../derive/wording.ts';
import { plantLines, plantTotals } from '../../../plan/plant-list/index.ts';
import type { Plan } from '../../../plan/records.ts';
import { useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Figures, Section } from '../Figures.tsx';
import { FlowCheckFigures } from '../RunningFlow.tsx';
import { useShow } from '../use-show.ts';
import { smallVolume } from './figures.ts';

interface Props {
  readonly plan: Plan;
  readonly coverage: Coverage;
  /** The laterals of the only zone; none where there are several. */
  readonly laterals: readonly ZoneLateral[];
}

/** Beds listed at most; the rest can be unfolded. */
const MOST_BEDS = 6;

/** What is on the site today, in figures. */
export function ExistingCard({ plan, coverage, laterals }: Props): ReactElement {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const existing = useMemo(() => existingOf(plan), [plan]);
  const show = (kind: Parameters<typeof formatQuantity>[0], value: number | null) =>
    value === null ? words.site.unmeasured : formatQuantity(kind, value, units);
  const [supply] = plan.supplies.size === 1 ? [...plan.supplies] : [];
  const any = plan.heads.size + plan.laterals.size > 0;
  // Along the ground, as the dead legs are.
  const volumes = lateralsOf(plan).flatMap((zone) => zone.volumeL ?? []);
  const volumeL = volumes.length > 0 ? volumes.reduce((sum, litres) => sum + litres, 0) : null;
  const toPlace = plantTotals(plan.plants, plantLines(plan)).all.toPlace;
  return (
    <Section title={words.decide.title}>
      <Figures
        rows={[
          [words.decide.beds, show('area', existing.bedAreaM2)],
          [
            words.decide.plants,
            toPlace > 0 ? words.decide.toPlace(existing.plantCount, toPlace) : String(existing.plantCount),
          ],
          [words.decide.heads, String(existing.headCount)],
          [words.decide.flow, show('zoneFlow', existing.totalFlowLph)],
          [words.decide.rate, show('rate', existing.precipitationMmPerH)],
          [words.decide.lateral, show('length', existing.lateralSurfaceLengthM)],
          [words.decide.volume, volumeL === null ? words.site.unmeasured : smallVolume(volumeL, units)],
        ]}
      />
      {supply && <FlowCheckFigures supplyId={supply.id} />}
      {!any && <p className="advice">{words.decide.nothing}</p>}
      <OversprayFigures of={coverage.total} />
      {any && <BedRates plan={plan} coverage={coverage} />}
      <Shapes laterals={laterals} />
    </Section>
  );
}

interface ZoneProps {
  readonly coverage: Coverage;
  readonly zone: ZoneVerdict;
  readonly laterals: readonly ZoneLateral[];
}

/** The zone that is looked at, where there are several. */
export function ZoneCard({ coverage, zone, laterals }: ZoneProps): ReactElement | null {
  const words = useWords();
  const units = useEditorState((state) => state.units);
  const figures = coverage.zones.find((one) => one.zone === zone.zone);
  if (!figures) return null;
  const show = (kind: Parameters<typeof formatQuantity>[0], value: number | null) =>
    value === null ? words.site.unmeasured : formatQuantity(kind, value, units);
  const headCount =
    [...coverage.heads.values()].filter((head) => head.zone === zone.zone).length +
    figures.headsWithoutPattern.length;
  return (
    <Section title={`${words.decide.zone} ${zone.zone ?? words.decide.noZone}`}>
      <Figures
        rows={[
          [words.decide.zoneBeds, show('area', figures.bedAreaM2)],
          [words.decide.zoneHeads, String(headCount)],
          [words.decide.zoneFlow, show('zoneFlow', figures.flowLph)],
          [words.decide.zoneRate, show('rate', figures.rateMmPerH)],
        ]}
      />
      {zone.supplyId !== null && <FlowCheckFigures supplyId={zone.supplyId} />}
      <OversprayFigures of={figures} />
      <Shapes laterals={laterals} />
    </Section>
  );
}

function Shapes({ laterals }: { readonly laterals: readonly ZoneLateral[] }): ReactElement {
  return (
    <>
      {laterals.map((lateral, i) => (
        <p key={i} className="quiet-text">
          {lateral.shape.sentence}
        </p>
      ))}
    </>
  );
}

/** How much of the zone's water misses, and where it falls. */
function OversprayFigures({ of }: { readonly of: ZoneCoverage }): ReactElement | null {
  const words = useWords().decide;
  const units = useEditorState((state) => state.units);
  // Without a bed all water misses, which says nothing.
  if (of.oversprayShare === null || !of.shares || !(of.bedAreaM2 > 0)) return null;
  const percent = (share: number) => formatQuantity('percent', 100 * share, units, { digits: 1 });
  const parts = [
    [words.onPaving, of.shares.paving],
    [words.onWall, of.shares.wall],
    [words.onLawn, of.shares.lawn],
  ] as const;
  return (
    <>
      <Figures
        rows={[
          [words.overspray, percent(of.oversprayShare), words.oversprayTitle],
          ...parts
            .filter(([, share]) => share >= 0.005)
            .map(([name, share]) => [name, percent(share)] as const),
          [words.wetted, formatQuantity('area', of.wettedM2, units)],
        ]}
      />
      {of.headsWithoutPattern.length > 0 && (
        <p className="field-note">{words.noPattern(of.headsWithoutPattern.length)}</p>
      )}
    </>
  );
}

/** What each bed gets in an hour against what its soil takes in. */
function BedRates({
  plan,
  coverage,
}: {
  readonly plan: Plan;
  readonly coverage: Coverage;
}): ReactElement | null {
  const words = useWords().decide;
  const units = useEditorState((state) => state.units);
  const show = useShow();
  if (coverage.beds.length === 0) return null;
  const rows = coverage.beds.map((bed) => ({
    bed,
    intake: intakeOf(plan.soil, bedSlope(plan, bed.id)?.meanPercent ?? null),
  }));
  const intake = rows[0]!.intake;
  const table = (list: typeof rows) => (
    <table className="schedule">
      <thead>
        <tr>
          <th scope="col">{words.bed}</th>
          <th scope="col">{words.reached}</th>
          <th scope="col">{words.bedRate}</th>
          <th scope="col">{words.intake}</th>
        </tr>
      </thead>
      <tbody>
        {list.map(({ bed, intake: takes }) => (
          <tr
            key={bed.id}
            data-over={takes !== null && bed.rateMmPerH !== null && bed.rateMmPerH > takes.mmPerH}
          >
            <th scope="row">
              <button type="button" className="link" onClick={() => show([{ table: 'areas', id: bed.id }])}>
                {plan.areas.get(bed.id)?.name || bed.id}
              </button>
            </th>
            <td>{formatQuantity('percent', 100 * bed.coveredShare, units)}</td>
            <td>{bed.rateMmPerH === null ? '–' : formatQuantity('rate', bed.rateMmPerH, units)}</td>
            <td>{takes ? formatQuantity('rate', takes.mmPerH, units) : '–'}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
  return (
    <>
      {table(rows.slice(0, MOST_BEDS))}
      {rows.length > MOST_BEDS && (
        <details className="calculator">
          <summary>{words.more(rows.length - MOST_BEDS)}</summary>
          {table(rows.slice(MOST_BEDS))}
        </details>
      )}
      <p className="field-note">
        {!intake
          ? words.intakeUnknown
          : intake.basis === 'measured'
            ? words.intakeMeasured
            : `${words.intakeTable} ${shownSource(intake.source)}.`}
      </p>
    </>
  );
}
