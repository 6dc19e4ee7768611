import type { Decision } from '../derive/decision.ts';
import type { Outcome, Reason } from '../derive/existing/verdict/index.ts';
import { shownSource } from '../derive/wording.ts';
import { both, columns, pair } from './study-text.ts';

/** Longest list of tie-ins or heads that is printed; the JSON has all. */
const MOST_LINES = 8;

const OUTCOMES: Readonly<Record<Outcome, string>> = {
  convert: 'Convert to drip',
  split: 'Split first, then convert',
  leave: 'Leave as it is',
};

/** Where the sprays' water falls, what the beds get and what the soil takes in. */
export function coverageLines({ coverage, soil, flowChecks, laterals }: Decision): string[] {
  const { total, beds } = coverage;
  const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
  const { intake, ponding, slope, texture } = soil;
  return [
    ...(total.oversprayShare === null || !total.shares
      ? []
      : [
          pair(
            'overspray',
            `${percent(total.oversprayShare)} of the water misses; paving ${percent(total.shares.paving)}, walls ${percent(total.shares.wall)}, lawn ${percent(total.shares.lawn)}`,
          ),
        ]),
    ...beds
      .slice(0, MOST_LINES)
      .map(({ id, coveredShare, rateMmPerH }) =>
        pair(`bed ${id}`, `${percent(coveredShare)} reached, gets ${both('rate', rateMmPerH)}`),
      ),
    ...(texture.texture ? [pair('soil', `${texture.texture}, by ${texture.how}`)] : []),
    ...(texture.disagreement ? [pair('', texture.disagreement)] : []),
    ...(slope ? [pair('slope of the beds', `${slope.meanPercent.toFixed(1)} % mean`)] : []),
    ...(intake
      ? [
          pair(
            'intake',
            `${both('rate', intake.mmPerH)}, ${intake.basis === 'measured' ? 'measured' : `by table (${shownSource(intake.source)})`}`,
          ),
        ]
      : [pair('intake', 'not known')]),
    ...(ponding
      ? [
          pair(
            'water stands',
            ponding.minutes === null
              ? 'never at the sprays’ rate'
              : `after ${ponding.minutes.toFixed(1)} min of spraying, by the means of its texture`,
          ),
        ]
      : []),
    ...flowChecks.map(({ supplyId, measuredLph, headsLph, differencePercent, meaning }) =>
      pair(
        `flow at ${supplyId}`,
        `${both('zoneFlow', measuredLph)} measured, ${both('zoneFlow', headsLph)} by its heads (${differencePercent.toFixed(0)} %). ${meaning}`,
      ),
    ),
    ...laterals.map(({ zone, shape }) => pair(zone === null ? 'lateral' : `lateral ${zone}`, shape.sentence)),
  ];
}

/** The verdict with its reasons, zone by zone. */
export function verdictLines({ verdict }: Decision): string[] {
  const several = verdict.zones.length > 1;
  return [
    ...(several || verdict.zones.length === 0 ? [pair('in all', OUTCOMES[verdict.outcome])] : []),
    ...verdict.zones.flatMap(({ zone, outcome, reasons }) => [
      pair(several ? `zone ${zone ?? '-'}` : 'verdict', OUTCOMES[outcome]),
      ...reasons.flatMap(reasonLines),
    ]),
    ...verdict.missing.map((text) => pair('missing', text)),
  ];
}

function reasonLines({ speaks, blocks, message, waysOut, source }: Reason): string[] {
  return [
    pair(`  ${blocks ? 'blocks' : speaks}`, `${message} (${shownSource(source)})`),
    ...waysOut.map((way) => pair('', `- ${way}`)),
  ];
}

/** The ranked tie-ins of each zone. */
export function tieInLines({ tieIns }: Decision): string[] {
  return tieIns.flatMap(({ zone, candidates, notices }) => [
    ...(tieIns.length > 1 ? [`zone ${zone ?? '-'}`] : []),
    ...(candidates.length === 0
      ? ['no place where a valve reaches old pipe']
      : columns(
          ['rank', 'tie-in', 'dead legs', 'in them', 'drains', 'pressure'],
          candidates
            .slice(0, MOST_LINES)
            .map(({ id, deadLegLengthM, deadLegVolumeL, drains, pressureKpa }, i) => [
              String(i + 1),
              id,
              both('length', deadLegLengthM),
              deadLegVolumeL === null ? 'not known' : both('volume', deadLegVolumeL, 2),
              drains === null ? 'not known' : drains ? 'yes' : 'no',
              both('pressure', pressureKpa),
            ]),
        )),
    ...(candidates[0] ? [`${candidates[0].id}: ${candidates[0].why}`] : []),
    ...notices.map(({ message }) => message),
  ]);
}
