import type { ReactElement } from 'react';
import { useEditorState } from '../services.ts';
import { DecidePanel } from './DecidePanel.tsx';
import { Inspector } from './Inspector.tsx';
import { BuildPanel, ComingPanel, LayoutPanel } from './OtherPanels.tsx';
import { PipeLegend } from './PipeLegend.tsx';
import { ProvePanel } from './ProvePanel.tsx';
import { RectifyCard } from './RectifyCard.tsx';
import { SurveyPanel } from './SurveyPanel.tsx';
import { ToolChoices } from './ToolChoices.tsx';

interface Props {
  onOpen(): void;
  onPrint(): void;
}

/** Right side: what is chosen first, then what the view has to say. */
export function Panel({ onOpen, onPrint }: Props): ReactElement {
  const view = useEditorState((state) => state.view);
  const tool = useEditorState((state) => state.tool);
  return (
    <aside className="panel" aria-label="Panel">
      <div className="panel-body">
        <Inspector />
        <ToolChoices />
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
