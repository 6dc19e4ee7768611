import { DEFAULT_SHOW, type Subject } from '../drawing/index.ts';
import type { EditorState } from './store.ts';

type Shown = Pick<EditorState, 'view' | 'showSlopes' | 'showWetted' | 'showRoots'>;

/** Where the old zone is surveyed, judged and tied in to, its heads are named. */
const WITH_HEADS: ReadonlySet<Subject> = new Set([...DEFAULT_SHOW, 'headTags']);
const WITH_SLOPES: ReadonlySet<Subject> = new Set([...WITH_HEADS, 'slopes']);

const ROOTS: Readonly<Record<EditorState['showRoots'], readonly Subject[]>> = {
  off: [],
  now: ['rootZonesNow'],
  mature: ['rootZonesMature'],
};

/** Sets by what is shown, so that the same choices give the very same set. */
const inLayout = new Map<string, ReadonlySet<Subject>>();

function layoutSubjects(wetted: boolean, roots: EditorState['showRoots']): ReadonlySet<Subject> {
  if (!wetted && roots === 'off') return WITH_HEADS;
  const key = `${wetted} ${roots}`;
  const known = inLayout.get(key);
  if (known) return known;
  const subjects = new Set<Subject>([
    ...WITH_HEADS,
    ...(wetted ? (['wetted'] as const) : []),
    ...ROOTS[roots],
  ]);
  inLayout.set(key, subjects);
  return subjects;
}

/** What the view shows: tints of slopes only in the survey, roots and wet soil only in Lay out, each when asked. */
export function viewSubjects({ view, showSlopes, showWetted, showRoots }: Shown): ReadonlySet<Subject> {
  if (view === 'layout') return layoutSubjects(showWetted, showRoots);
  if (view === 'survey') return showSlopes ? WITH_SLOPES : WITH_HEADS;
  return view === 'decide' ? WITH_HEADS : DEFAULT_SHOW;
}
