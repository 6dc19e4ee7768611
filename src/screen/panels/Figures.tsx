import type { ReactElement, ReactNode } from 'react';

/** Rows of name and value, as in a schedule on a drawing. */
export function Figures({
  rows,
}: {
  readonly rows: readonly (readonly [string, ReactNode, string?])[];
}): ReactElement {
  return (
    <dl className="figures">
      {rows.map(([name, value, title]) => (
        <div key={name} title={title}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

/** A titled part of the panel; a part with an `id` can be jumped to. */
export function Section({
  id,
  title,
  children,
}: {
  readonly id?: string;
  readonly title: string;
  readonly children: ReactNode;
}): ReactElement {
  return (
    <section className="section" id={id}>
      <h2>{title}</h2>
      {children}
    </section>
  );
}
