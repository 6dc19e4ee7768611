import type { ReactElement } from 'react';
import { useWords } from '../words/index.ts';

const PARTS = ['photo', 'site', 'ground', 'water', 'controller', 'soil', 'planting'] as const;

/** The parts of the survey, to jump to: together they are longer than any screen. */
export function SurveyIndex(): ReactElement {
  const words = useWords().site;
  return (
    <nav className="survey-index" aria-label={words.parts}>
      {PARTS.map((part) => (
        <button
          key={part}
          type="button"
          onClick={() => document.getElementById(`survey-${part}`)?.scrollIntoView({ block: 'start' })}
        >
          {words.partNames[part]}
        </button>
      ))}
    </nav>
  );
}
