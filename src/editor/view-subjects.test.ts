import { expect, test } from 'vitest';
import { createEditor, VIEWS } from './store.ts';
import { viewSubjects } from './view-subjects.ts';

test('roots and wet soil show in Lay out only, and are no part of plan or history', () => {
  const editor = createEditor();
  const { history } = editor.store.getState();
  editor.setShowWetted(true);
  editor.setShowRoots('now');
  const state = editor.store.getState();
  expect(state.history).toBe(history);
  for (const view of VIEWS) {
    const shown = viewSubjects({ ...state, view });
    expect(shown.has('wetted')).toBe(view === 'layout');
    expect(shown.has('rootZonesNow')).toBe(view === 'layout');
    expect(shown.has('rootZonesMature')).toBe(false);
  }
});

test('the same choices give the very same set, so that nothing is drawn anew', () => {
  const state = { view: 'layout', showSlopes: false, showWetted: true, showRoots: 'mature' } as const;
  expect(viewSubjects(state)).toBe(viewSubjects({ ...state }));
  expect(viewSubjects(state).has('rootZonesMature')).toBe(true);
  expect(viewSubjects({ ...state, showRoots: 'off', showWetted: false }).has('wetted')).toBe(false);
});

test('tints of slopes stay with Survey', () => {
  const state = { showSlopes: true, showWetted: false, showRoots: 'off' } as const;
  expect(VIEWS.filter((view) => viewSubjects({ ...state, view }).has('slopes'))).toEqual(['survey']);
});
