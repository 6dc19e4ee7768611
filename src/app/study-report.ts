import { countFindings } from '../derive/checks/index.ts';
import type { Notice, Results } from '../derive/results.ts';
import type { Existing } from '../derive/existing/index.ts';
import type { Plan } from '../plan/records.ts';
import {
  acceptanceLines,
  drainLines,
  flushingLines,
  standingLines,
  stateOf,
  supplyLines,
} from './study-details.ts';
import type { Studied } from './study-json.ts';
import { both, columns, pair } from './study-text.ts';
import { coverageLines, tieInLines, verdictLines } from './study-verdict-text.ts';

/** A study as text for a person, in US and metric figures. */
export function studyReport({ file, opened, study, decision, details }: Studied): string {
  const { plan } = opened;
  const parts = [
    [plan.site.name || 'Site without a name', `${opened.kind} file ${file}`].join('\n'),
    section('Existing', existingLines(plan, study.existing)),
    section('Spray and soil', plan.heads.size > 0 ? coverageLines(decision) : []),
    section('Convert or not', plan.heads.size > 0 ? verdictLines(decision) : []),
    section('Where drip ties in, best first', tieInLines(decision)),
    section('Water', waterLines(plan)),
    section('Valves', valveLines(plan)),
    section(`Drip${stateOf(details.scenario)}`, dripLines(plan, details.results)),
    section('Where the pressure goes', supplyLines(plan, details.results)),
    section('Runs', runLines(plan, details.results)),
    section('Uniformity by published classes', acceptanceLines(details)),
    section('With no flow', standingLines(plan, details)),
    section('Flushing', flushingLines(plan, details)),
    section('After the valve shuts', drainLines(plan, details)),
    section(
      findingsTitle(study.notices),
      study.notices.map(
        ({ severity, rule, message, source, waived }) =>
          `${severity} [${rule}] ${message}${source ? ` (${source})` : ''}${waived ? ` Accepted as it is${waived.by ? ` by ${waived.by}` : ''}: ${waived.reason}` : ''}`,
      ),
    ),
    section(
      `Reading the file (${opened.notices.length})`,
      opened.notices.map(({ where, what, todo }) => `${where}: ${what}. ${todo}`),
    ),
    'Figures follow from what was surveyed and drawn; they are no guarantee. Local codes, the rules on backflow,\nand the marking of buried utilities before digging come first.',
  ];
  return `${parts.filter(Boolean).join('\n\n')}\n`;
}

/** How many findings there are, and how many of them are open errors or accepted. */
function findingsTitle(notices: readonly Notice[]): string {
  const { error, accepted } = countFindings(notices);
  const parts = [
    String(notices.length),
    ...(error > 0 ? [`${error} ${error === 1 ? 'error' : 'errors'} open`] : []),
    ...(accepted > 0 ? [`${accepted} accepted`] : []),
  ];
  return `Findings (${parts.join(', ')})`;
}

function section(title: string, lines: readonly string[]): string {
  return lines.length ? `${title}\n${lines.map((line) => `  ${line}`).join('\n')}` : '';
}

function existingLines(plan: Plan, existing: Existing): string[] {
  const lacking = [...plan.heads].filter((head) => head.waters === 'bed' && head.flowLph === null).length;
  const heads = [
    existing.headsWithoutFlow > 0 ? `${existing.headsWithoutFlow} without a measured flow` : '',
    existing.lawnHeadCount > 0 ? `${existing.lawnHeadCount} on lawn` : '',
  ].filter(Boolean);
  const unknown = existing.lateralsWithoutBore;
  const lateral = [
    `${both('length', existing.lateralLengthM)} in plan, ${both('length', existing.lateralSurfaceLengthM)} on the ground`,
    existing.assumedLateralCount > 0
      ? `${existing.assumedLateralCount} ${existing.assumedLateralCount > 1 ? 'pieces' : 'piece'} assumed`
      : '',
  ].filter(Boolean);
  return [
    pair('beds', `${both('area', existing.bedAreaM2)} in plan`),
    pair('plants', String(existing.plantCount)),
    pair('heads', `${existing.headCount}${heads.length ? ` (${heads.join(', ')})` : ''}`),
    pair('total flow', both('zoneFlow', existing.totalFlowLph)),
    pair('precipitation', precipitation(existing.precipitationMmPerH, lacking)),
    pair('lateral', lateral.join('; ')),
    pair(
      'water in lateral',
      existing.lateralVolumeL === null ? 'not known' : both('volume', existing.lateralVolumeL),
    ),
    ...(unknown.length > 0
      ? [pair('', `without ${unknown.length} of unknown bore: ${listed(unknown)}`)]
      : []),
  ];
}

function precipitation(mmPerH: number | null, lackingHeads: number): string {
  if (mmPerH === null) return 'not known';
  const heads =
    lackingHeads === 1 ? 'one head on a bed lacks its' : `${lackingHeads} heads on beds lack their`;
  return `${both('rate', mmPerH)}${lackingHeads > 0 ? ` at least: ${heads} flow` : ''}`;
}

function listed(ids: readonly string[]): string {
  return ids.length > 12 ? `${ids.slice(0, 12).join(', ')} and ${ids.length - 12} more` : ids.join(', ');
}

function waterLines({ water, controller }: Plan): string[] {
  const words = (...parts: readonly (string | null)[]): string =>
    parts.filter(Boolean).join(' ') || 'not measured';
  const yesNo = (value: boolean | null): string => (value === null ? 'not known' : value ? 'yes' : 'no');
  return [
    pair('static pressure', both('pressure', water.staticKpa)),
    ...water.workingPoints.map(({ pressureKpa, flowLph, how }) =>
      pair(
        'working',
        `${both('pressure', pressureKpa)} at ${both('zoneFlow', flowLph)}${how ? `, by ${how}` : ''}`,
      ),
    ),
    pair('meter', words(water.meterSize)),
    pair(
      'service',
      `${words(water.serviceSize, water.serviceMaterial)}${water.serviceLengthM === null ? '' : `, ${both('length', water.serviceLengthM)}`}`,
    ),
    pair(
      'backflow device',
      `${words(water.backflowSize, water.backflowType)}${water.backflowZM === null ? '' : `, ${both('length', water.backflowZM)} above the datum`}`,
    ),
    pair('recycled water', yesNo(water.recycledWater)),
    pair('flow sensor', yesNo(water.flowSensor)),
    pair('master valve', water.masterValve ?? 'not known'),
    ...(controllerWords(controller) ? [pair('controller', controllerWords(controller))] : []),
  ];
}

/** What is known of the controller, in words; empty for nothing. */
function controllerWords(controller: Plan['controller']): string {
  const { longestRunMin, startsPerDay, longestIntervalDays, freeStations } = controller;
  return [
    longestRunMin === null ? '' : `runs up to ${+longestRunMin.toFixed(1)} min`,
    startsPerDay === null ? '' : `${startsPerDay} starts a day`,
    longestIntervalDays === null ? '' : `intervals up to ${+longestIntervalDays.toFixed(1)} days`,
    freeStations === null ? '' : `${freeStations} free stations`,
  ]
    .filter(Boolean)
    .join(', ');
}

function valveLines(plan: Plan): string[] {
  if (plan.supplies.size === 0) return ['none is on the plan'];
  const rows = [...plan.supplies].map((supply) => [
    supply.id,
    supply.zone ?? '-',
    [supply.valveSize, supply.valveType].filter(Boolean).join(' ') || '-',
    both('zoneFlow', supply.minFlowLph),
    both('zoneFlow', supply.maxFlowLph),
    both('zoneFlow', supply.runningFlowLph),
  ]);
  return columns(['valve', 'zone', 'size, type', 'least flow', 'most flow', 'running'], rows);
}

function dripLines(plan: Plan, results: Results): string[] {
  if (plan.runs.size === 0) return ['no tubing is drawn yet'];
  const counts = Object.entries(results.counts)
    .filter(([, count]) => count > 0)
    .map(([state, count]) => `${count} ${state}`)
    .join(', ');
  const { uniformity, eu, us } = results;
  return [
    pair('flow', both('zoneFlow', results.totalFlowLph)),
    pair('outlets', `${results.outletCount}${counts ? `: ${counts}` : ''}`),
    pair('mean outlet flow', both('outletFlow', results.meanFlowLph)),
    pair('lowest pressure', both('pressure', results.lowestKpa)),
    pair('highest pressure', both('pressure', results.highestKpa)),
    pair(
      'uniformity',
      uniformity
        ? `low quarter ${uniformity.dulq.toFixed(1)} %, Christiansen ${uniformity.cu.toFixed(1)} %, flow variation ${uniformity.flowVariation.toFixed(1)} %`
        : 'none',
    ),
    ...(eu !== null && us !== null
      ? [
          pair(
            'with variation',
            `design emission uniformity ${eu.toFixed(1)} %, statistical uniformity ${us.toFixed(1)} %`,
          ),
        ]
      : []),
    ...results.zones.map((zone) =>
      pair(
        `${zone.owner.table === 'controls' ? 'control set' : 'supply'} ${zone.owner.id}`,
        `${both('zoneFlow', zone.flowLph)} to ${zone.outletCount} outlets, ${both('pressure', zone.inletKpa)} in, ${both('pressure', zone.outletKpa)} out`,
      ),
    ),
  ];
}

function runLines(plan: Plan, results: Results): string[] {
  if (results.runs.size === 0) return [];
  const rows = [...results.runs.values()].map((run) => [
    plan.runs.get(run.runId)?.name || run.runId,
    both('length', run.lengthM),
    String(run.outletCount),
    both('zoneFlow', run.flowLph),
    both('pressure', run.inletKpa),
    both('pressure', run.worstKpa),
    both('velocity', run.maxVelocityMs),
  ]);
  return columns(['run', 'length', 'outlets', 'flow', 'at its inlet', 'lowest', 'fastest'], rows);
}
