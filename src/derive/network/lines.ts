import { distance, type Path } from '../../base/point.ts';
import { tubingById, tubingFor } from '../../catalog/index.ts';
import type { LateralPipe, Plan, Ref, Run } from '../../plan/records.ts';
import type { Ground, Profile } from '../ground/index.ts';
import { agree, counted } from '../wording.ts';
import { called, type Notices } from './notices.ts';
import { pipeSection, SMOOTH_ROUGHNESS_M } from './pipe-bore.ts';

/** A drawn run or an existing lateral pipe, laid on the ground. */
export interface Line {
  readonly owner: Ref<'runs' | 'laterals'>;
  readonly isRun: boolean;
  readonly name: string;
  /** Laterals: valve zone, and names of both ends. */
  readonly zone: string | null;
  readonly endNames: readonly [string, string];
  readonly points: Path;
  /** Distance of each point from the start, in plan. */
  readonly vertexAlong: readonly number[];
  readonly profile: Profile;
  readonly boreM: number;
  readonly roughnessM: number;
}

/**
 * Lines as they were laid on a ground, by the record: while one is dragged all others stay. Only what gave no notice is
 * kept, so that a notice comes again with each network.
 */
const laid = new WeakMap<Run | LateralPipe, { readonly ground: Ground; readonly line: Line }>();

/** Runs and laterals that can carry water; what cannot be used is named and left out, what is cut off only left out. */
export function linesOf(plan: Pick<Plan, 'runs' | 'laterals'>, ground: Ground, notices: Notices): Line[] {
  const lines: Line[] = [];
  for (const run of plan.runs) {
    const known = laid.get(run);
    if (known?.ground === ground) {
      lines.push(known.line);
      continue;
    }
    const told = notices.count;
    const points = cleanPath(run.path);
    if (!points) {
      notices.add(
        'run-without-length',
        'warning',
        `Run ${called(run)} has no length or a place that is not a number, and is left out: draw it again or remove it.`,
        { table: 'runs', id: run.id },
      );
      continue;
    }
    const line: Line = {
      owner: { table: 'runs', id: run.id },
      isRun: true,
      name: called(run),
      zone: null,
      endNames: ['', ''],
      points,
      vertexAlong: cumulative(points),
      profile: ground.profile(points),
      boreM: runBoreMm(run, notices) / 1000,
      roughnessM: SMOOTH_ROUGHNESS_M,
    };
    if (notices.count === told) laid.set(run, { ground, line });
    lines.push(line);
  }
  const assumed: { size: Ref[]; material: Ref[] } = { size: [], material: [] };
  for (const pipe of plan.laterals) {
    if (pipe.fate === 'cut off') continue;
    const known = laid.get(pipe);
    if (known?.ground === ground) {
      lines.push(known.line);
      continue;
    }
    const ref = { table: 'laterals', id: pipe.id } as const;
    const points = cleanPath([pipe.a, pipe.b]);
    if (!points) {
      notices.add(
        'lateral-without-length',
        'info',
        `The lateral pipe from "${pipe.from}" to "${pipe.to}" has no length and is left out.`,
        ref,
      );
      continue;
    }
    const section = pipeSection(pipe.size, pipe.material);
    if (section.assumed !== 'nothing') assumed[section.assumed].push(ref);
    const line: Line = {
      owner: ref,
      isRun: false,
      name: `"${pipe.from} - ${pipe.to}"`,
      zone: pipe.zone,
      endNames: [pipe.from.trim(), pipe.to.trim()],
      points,
      vertexAlong: cumulative(points),
      profile: ground.profile(points),
      boreM: section.innerDiameterMm / 1000,
      roughnessM: section.roughnessM,
    };
    if (section.assumed === 'nothing') laid.set(pipe, { ground, line });
    lines.push(line);
  }
  tellAssumed(assumed, notices);
  return lines;
}

function tellAssumed(assumed: { size: Ref[]; material: Ref[] }, notices: Notices): void {
  if (assumed.size.length > 0) {
    notices.add(
      'lateral-size-assumed',
      'info',
      `The size of ${counted(assumed.size.length, 'existing lateral pipe')} is not known; 3/4 in is taken. Expose and measure ${agree(assumed.size.length, 'it', 'them')}.`,
      ...assumed.size,
    );
  }
  if (assumed.material.length > 0) {
    notices.add(
      'lateral-material-assumed',
      'info',
      `The material of ${counted(assumed.material.length, 'existing lateral pipe')} is not known; the narrowest bore of the size is taken.`,
      ...assumed.material,
    );
  }
}

function runBoreMm(run: Run, notices: Notices): number {
  const tubing = tubingById(run.tubing);
  if (tubing) return tubing.innerDiameterMm;
  const standIn = tubingFor(run.inline ? 'inline' : 'blank')[0]!;
  notices.add(
    'unknown-tubing',
    'warning',
    `The tubing "${run.tubing}" of run ${called(run)} is not in the catalog; ${standIn.name} is taken. Choose its tubing.`,
    { table: 'runs', id: run.id },
  );
  return standIn.innerDiameterMm;
}

/** The path without points that repeat the one before; null when it has no length or is not all numbers. */
function cleanPath(path: Path): Path | null {
  if (!path.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y))) return null;
  const kept = path.filter((p, i) => i === 0 || distance(path[i - 1]!, p) > 1e-6);
  return kept.length >= 2 ? kept : null;
}

function cumulative(points: Path): number[] {
  const along = [0];
  for (let i = 1; i < points.length; i++) along.push(along[i - 1]! + distance(points[i - 1]!, points[i]!));
  return along;
}
