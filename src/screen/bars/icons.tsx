import type { ReactElement } from 'react';

/** Plain line icons on a 20 x 20 field. */
const PATHS = {
  select: 'M5 3l10 7-4.6.9L8 15.5z',
  pan: 'M10 3v14M3 10h14M7.5 5.5L10 3l2.5 2.5M7.5 14.5L10 17l2.5-2.5M5.5 7.5L3 10l2.5 2.5M14.5 7.5L17 10l-2.5 2.5',
  measure: 'M3 14l11-11 3 3L6 17zM6 11l1.5 1.5M9 8l1.5 1.5M12 5l1.5 1.5',
  rectify: 'M7 3h6l4 6H3zM4 12h12v5H4z',
  bed: 'M3 15V7l7-3 7 3v4l-5 1-1 5z',
  paving: 'M3 4h14v12H3zM3 10h14M10 4v6M6.5 10v6M13.5 10v6',
  lawn: 'M3 16h14M5 16c0-4 0-6-1.5-8M7.5 16c0-5 .5-8 1.5-10M11 16c0-4 .5-6 2-8M14.5 16c0-3 .5-5 2-6',
  building: 'M3 17V8l7-5 7 5v9zM8 17v-5h4v5',
  head: 'M10 17v-6M7 17h6M10 11L4 5M10 11l6-6M10 11V3M4.5 8.5A6 6 0 0 1 15.5 8.5',
  lateral: 'M2 15h16M6 15V6M10 15V6M14 15V6M4.5 6h3M8.5 6h3M12.5 6h3',
  level: 'M3 13h14M10 13l-4-7h8z',
  fall: 'M3 5l12 8M15 13l-4.6-.4M15 13l-2-4M3 5v10h12',
  section: 'M2 15c4 0 4-6 8-6s4-4 8-4M2 18h16M4 3h3M13 3h3M9 3h2',
  plant: 'M10 17V9M10 11c-4 0-6-2-6-6 4 0 6 2 6 6zM10 9c0-3 2-5 6-5 0 4-2 6-6 6',
  supply: 'M4 5l12 10V5L4 15zM10 10V4M7.5 4h5',
  control: 'M2 7h16v6H2zM10 7v6M2 13l8-6M13 10h3',
  inline: 'M2 14c5 0 4-8 9-8h7M6 12.2h.01M10 6.8h.01M14 6h.01',
  blank: 'M2 14c5 0 4-8 9-8h7',
  emitter: 'M10 3c3 4 4.5 6 4.5 8.5a4.5 4.5 0 0 1-9 0C5.5 9 7 7 10 3z',
  check: 'M2 10h3.5M5.5 5.5v9l8-4.5zM14.5 5v10M14.5 10H18',
  flush: 'M2 10h5.5M7.5 5.5v9M9.5 10a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0-7 0',
  relief: 'M2 16h16M10 16v-2M6.8 10.8a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0-6.4 0M10 7.6V4M7 4h6',
  drain: 'M2 4h16M10 4v2M6.8 9.2a3.2 3.2 0 1 0 6.4 0a3.2 3.2 0 1 0-6.4 0M10 12.4V18M8 16l2 2 2-2',
  lasso:
    'M10 4c4.5 0 7 1.8 7 4.3S14.5 12.6 10 12.6 3 10.8 3 8.3 5.5 4 10 4zM6.5 12.2c-1.5 1-1 3 .5 3.3M7 15.5c1 .3 1.5 1.5.5 2.5',
  row: 'M2 14h16M4 14v-3M10 14v-3M16 14v-3M2.5 9.5a1.5 1.5 0 1 0 3 0a1.5 1.5 0 1 0-3 0M8.5 9.5a1.5 1.5 0 1 0 3 0a1.5 1.5 0 1 0-3 0M14.5 9.5a1.5 1.5 0 1 0 3 0a1.5 1.5 0 1 0-3 0',
  grid: 'M3.5 4h.01M10 4h.01M16.5 4h.01M6.8 10h.01M13.2 10h.01M3.5 16h.01M10 16h.01M16.5 16h.01M3.5 4L6.8 10 10 4l3.2 6 3.3-6M3.5 16l3.3-6L10 16l3.2-6 3.3 6',
  brush: 'M17 3L9 11M9 11c-2.5-.5-4 1-4 3 0 1-.5 2-2 2.5 3.5 1 7.5 0 7.5-3.5 0-1-.5-1.7-1.5-2z',
  tape: 'M3 10a4.5 4.5 0 1 1 9 0v4.5H7.5A4.5 4.5 0 0 1 3 10zM6 10a1.5 1.5 0 1 0 3 0a1.5 1.5 0 1 0-3 0M12 14.5h6M18 12.5v2M15 13.5v1',
  undo: 'M4 8h8a4 4 0 0 1 0 8H8M4 8l3-3M4 8l3 3',
  redo: 'M16 8H8a4 4 0 0 0 0 8h4M16 8l-3-3M16 8l-3 3',
  panel: 'M3 4h14v12H3zM12.5 4v12',
  print: 'M6 8V3h8v5M6 14H3V8h14v6h-3M6 12h8v5H6z',
} as const;

export type IconName = keyof typeof PATHS;

export function Icon({ name }: { readonly name: IconName }): ReactElement {
  const dots = name === 'inline';
  return (
    <svg className="icon" viewBox="0 0 20 20" width="20" height="20" aria-hidden="true">
      <path
        d={PATHS[name]}
        fill="none"
        stroke="currentColor"
        strokeWidth={dots ? 1.6 : 1.4}
        strokeLinecap="round"
        strokeLinejoin="round"
      />
      {dots &&
        [
          [6, 12.2],
          [10, 6.6],
          [15, 6],
        ].map(([x, y]) => <circle key={x} cx={x} cy={y} r="1.9" fill="currentColor" />)}
    </svg>
  );
}
