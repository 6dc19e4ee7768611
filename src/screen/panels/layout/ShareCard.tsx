import type { ReactElement } from 'react';
import { distance } from '../../../base/point.ts';
import { rootZone } from '../../../derive/root-zone.ts';
import { shareEmitter } from '../../../layout/points/index.ts';
import { plantsOf } from '../../../plan/emitter-plants.ts';
import type { Plant, PointEmitter } from '../../../plan/records.ts';
import { useEditor } from '../../services.ts';
import { useWords } from '../../words/index.ts';
import { Section } from '../Figures.tsx';

/** One emitter and some plants are chosen: the plants may share it. */
export function ShareCard({
  emitter,
  plants,
}: {
  readonly emitter: PointEmitter;
  readonly plants: readonly Plant[];
}): ReactElement {
  const editor = useEditor();
  const words = useWords().points;
  const own = new Set(plantsOf(emitter));
  const others = plants.filter(({ id }) => !own.has(id));
  const far = others.filter((plant) => distance(plant.at, emitter.at) > rootZone(plant).outerM + 1e-6);
  return (
    <Section title={words.shareTitle}>
      <p className="advice">{others.length === 0 ? words.sharedAlready : words.shareText(others.length)}</p>
      {far.length > 0 && <p className="field-note">{words.shareFar(far.map(({ id }) => id).join(', '))}</p>}
      <div className="row">
        <button
          type="button"
          className="primary"
          data-testid="emitter-share"
          disabled={others.length === 0}
          onClick={() =>
            editor.commit(
              shareEmitter(
                words.shareLabel,
                emitter.id,
                others.map(({ id }) => id),
              ),
            )
          }
        >
          {words.shareLabel}
        </button>
      </div>
    </Section>
  );
}
