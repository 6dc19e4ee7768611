import { useEffect, useRef, type ReactElement, type RefObject } from 'react';
import { useEditorState } from '../services.ts';
import { DecidePanel } from './DecidePanel.tsx';
import { Inspector } from './Inspector.tsx';
import { BuildPanel, ComingPanel, LayoutPanel } from './OtherPanels.tsx';
import { PipeLegend } from './PipeLegend.tsx';
import { ProvePanel } from './ProvePanel.tsx';
import { RectifyCard } from './RectifyCard.tsx';
import { SurveyPanel } from './SurveyPanel.tsx';
import { useFocusKept } from './use-focus-kept.ts';
import { ToolChoices } from './ToolChoices.tsx';

interface Props {
  onOpen(): void;
  onPrint(): void;
}

/**
 * Brings the head of the panel into view when there is something new to read there: another view, a cross-section, a
 * choice made on the plan. A choice made in the panel leaves it where the person is.
 */
function useTopForNews(panel: RefObject<HTMLElement | null>): void {
  const view = useEditorState((state) => state.view);
  const section = useEditorState((state) => state.section);
  const selection = useEditorState((state) => state.selection);
  useEffect(() => {
    panel.current?.scrollTo({ top: 0 });
  }, [panel, view, section]);
  useEffect(() => {
    const inPanel = panel.current?.contains(document.activeElement) ?? false;
    if (selection.length > 0 && view !== 'decide' && !inPanel) panel.current?.scrollTo({ top: 0 });
    // Only a new choice counts.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [panel, selection]);
}

/** Right side: what is chosen first, then what the view has to say. */
export function Panel({ onOpen, onPrint }: Props): ReactElement {
  const view = useEditorState((state) => state.view);
  const tool = useEditorState((state) => state.tool);
  const panel = useRef<HTMLElement>(null);
  useTopForNews(panel);
  useFocusKept(panel);
  // Whoever holds a drawing tool looks for its choices; these two choose and read.
  const drawsNext = tool !== 'lasso' && tool !== 'tape';
  return (
    <aside className="panel" aria-label="Panel" ref={panel}>
      <div className="panel-body">
        {/* In Decide a head that is pressed is a candidate, not something to change. */}
        {drawsNext && <ToolChoices />}
        {view !== 'decide' && <Inspector />}
        {!drawsNext && <ToolChoices />}
        {tool === 'rectify' && <RectifyCard onOpen={onOpen} />}
        {view === 'survey' && <SurveyPanel onOpen={onOpen} />}
        {view === 'decide' && <DecidePanel />}
        {(view === 'survey' || view === 'decide') && <PipeLegend />}
        {view === 'layout' && <LayoutPanel />}
        {view === 'prove' && <ProvePanel />}
        {view === 'build' && <BuildPanel onPrint={onPrint} />}
        {(view === 'water' || view === 'teach') && <ComingPanel view={view} />}
      </div>
    </aside>
  );
}
