import type { ReactElement } from 'react';
import { formatQuantity, unitLabel, type UnitSystem } from '../../base/quantity.ts';
import { crossSection, LEVEL_NEAR_M, THING_NEAR_M, type CrossSection } from '../../derive/index.ts';
import { colorOf } from '../../drawing/index.ts';
import { useEditor, useEditorState } from '../services.ts';
import { useWords } from '../words/index.ts';
import { useShownPlan } from '../canvas/use-drawing.ts';
import { Figures, Section } from './Figures.tsx';
import { CHART, sectionChart } from './section-chart.ts';

/** The ground along the line of the cross-section, seen from the side; nothing while there is no line. */
export function SectionCard(): ReactElement | null {
  const editor = useEditor();
  const words = useWords().ground.section;
  const units = useEditorState((state) => state.units);
  const path = useEditorState((state) => state.section);
  const plan = useShownPlan();
  const section = path && crossSection(plan, path);
  if (!path || !section) return null;
  const length = (m: number) => formatQuantity('length', m, units);
  const slope = (percent: number) =>
    `${percent < 0 ? words.falls : words.rises} ${formatQuantity('slope', Math.abs(percent), units)}`;
  const { steepest, overallPercent, lengthM } = section;
  const riseM = section.places.at(-1)!.zM - section.places[0]!.zM;
  return (
    <Section title={words.title}>
      {section.knows === 'slope' ? (
        <>
          <Chart section={section} units={units} />
          <Figures
            rows={[
              [words.length, length(lengthM)],
              [words.onGround, length(section.groundLengthM)],
              [words.overall, `${slope(overallPercent)} (${length(Math.abs(riseM))})`],
              ...(steepest
                ? ([
                    [
                      words.steepest,
                      `${slope(steepest.percent)} (${length(steepest.fromM)} … ${length(steepest.toM)})`,
                    ],
                  ] as const)
                : []),
            ]}
          />
          <Notes section={section} units={units} />
        </>
      ) : (
        <p className="quiet-text">{words.none}</p>
      )}
      <p className="field-note">{words.again}</p>
      <div className="row">
        <button type="button" onClick={() => editor.setSection(path.toReversed())}>
          {words.turn}
        </button>
        <button type="button" className="quiet" onClick={() => editor.setSection(null)}>
          {words.close}
        </button>
      </div>
    </Section>
  );
}

/** What the signs on the chart stand for, as far as they occur. */
function Notes({
  section,
  units,
}: {
  readonly section: CrossSection;
  readonly units: UnitSystem;
}): ReactElement {
  const words = useWords().ground.section;
  const has = (...tables: CrossSection['marks'][number]['table'][]) =>
    section.marks.some(({ table }) => tables.includes(table));
  const near = (m: number) => formatQuantity('length', m, units, { digits: 1 });
  const notes = [
    ...(section.outside.length > 0 ? [words.outside] : []),
    ...(has('levels', 'falls') ? [`${words.levels} ${near(LEVEL_NEAR_M)}`] : []),
    ...(has('plants', 'heads') ? [`${words.things} ${near(THING_NEAR_M)}`] : []),
  ];
  return <p className="field-note">{notes.map((note) => `${note}.`).join(' ')}</p>;
}

const line = colorOf('line');
const soft = colorOf('soft');
const faint = colorOf('faint');

function Chart({
  section,
  units,
}: {
  readonly section: CrossSection;
  readonly units: UnitSystem;
}): ReactElement {
  const words = useWords().ground.section;
  const chart = sectionChart(section, units);
  const { x, y, height, times } = chart;
  const foot = height - CHART.bottom;
  const ends = [
    { letter: 'A', place: section.places[0]! },
    { letter: 'B', place: section.places.at(-1)! },
  ];
  const marks = (table: CrossSection['marks'][number]['table']) =>
    section.marks.filter((mark) => mark.table === table);
  const { steepest } = section;
  return (
    <figure>
      <svg
        className="section-chart"
        viewBox={`0 0 ${CHART.width} ${height}`}
        role="img"
        aria-label={words.chart}
      >
        {chart.yTicks.map(({ px, label }) => (
          <g key={label}>
            <line x1={CHART.left} x2={x(section.lengthM)} y1={px} y2={px} stroke={faint} strokeWidth={0.5} />
            <text x={CHART.left - 5} y={px + 3.5} textAnchor="end">
              {label}
            </text>
          </g>
        ))}
        {chart.xTicks.map(({ px, label }) => (
          <g key={label}>
            <line x1={px} x2={px} y1={foot} y2={foot + 4} stroke={soft} strokeWidth={0.75} />
            <text x={px} y={foot + 14} textAnchor="middle">
              {label}
            </text>
          </g>
        ))}
        <line x1={CHART.left} x2={x(section.lengthM)} y1={foot} y2={foot} stroke={soft} strokeWidth={0.75} />
        <text x={CHART.left} y={height - 3}>
          {words.distance}, {unitLabel('length', units)}
        </text>
        {chart.pieces.map(({ points, outside }, i) => (
          <g key={i}>
            <polygon
              points={[...points, [points.at(-1)![0], foot] as const, [points[0]![0], foot] as const]
                .map(([px, py]) => `${px},${py}`)
                .join(' ')}
              fill={colorOf('bed')}
              fillOpacity={outside ? 0.25 : 0.6}
            />
            <polyline
              points={points.map(([px, py]) => `${px},${py}`).join(' ')}
              fill="none"
              stroke={line}
              strokeWidth={1.5}
              strokeDasharray={outside ? '4 3' : undefined}
            />
          </g>
        ))}
        {steepest && section.places.length > 2 && (
          <line
            x1={x(steepest.fromM)}
            x2={x(steepest.toM)}
            y1={y(heightOn(section, steepest.fromM))}
            y2={y(heightOn(section, steepest.toM))}
            stroke={colorOf('accent')}
            strokeWidth={3}
            strokeOpacity={0.55}
          />
        )}
        {marks('plants').map(({ id, alongM, zM }) => (
          <line
            key={id}
            x1={x(alongM)}
            x2={x(alongM)}
            y1={y(zM) - 8}
            y2={y(zM)}
            stroke={colorOf('plant')}
            strokeWidth={2}
          />
        ))}
        {marks('heads').map(({ id, alongM, zM }) => (
          <line
            key={id}
            x1={x(alongM)}
            x2={x(alongM)}
            y1={y(zM)}
            y2={y(zM) + 7}
            stroke={colorOf('old')}
            strokeWidth={2}
          />
        ))}
        {[...marks('levels'), ...marks('falls')].map(({ table, id, alongM, zM }, i) => (
          <path
            key={`${table}/${id}/${i}`}
            d={`M${x(alongM)} ${y(zM)}l-3.5-6h7z`}
            fill={colorOf('paper')}
            stroke={line}
            strokeWidth={0.9}
          >
            <title>{`${id}: ${formatQuantity('length', zM, units)}`}</title>
          </path>
        ))}
        {ends.map(({ letter, place }) => (
          <text
            key={letter}
            className="section-end"
            x={x(place.alongM)}
            y={y(place.zM) - 12}
            textAnchor="middle"
          >
            {letter}
          </text>
        ))}
        <text x={CHART.left - 5} y={10} textAnchor="end">
          {unitLabel('length', units)}
        </text>
      </svg>
      <figcaption className="field-note">
        {times === 1 ? words.same : `${words.exaggerated} ${times} ${words.times}.`}
      </figcaption>
    </figure>
  );
}

function heightOn(section: CrossSection, alongM: number): number {
  return section.places.find((place) => place.alongM === alongM)?.zM ?? section.lowestM;
}
