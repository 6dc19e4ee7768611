/** Where a figure comes from: a published title with year and table, or "common practice". */
export interface Sourced {
  readonly source: string;
}

/** A catalog entry: generic, nameless as to makers, with its source. */
export interface Entry extends Sourced {
  readonly id: string;
  readonly name: string;
}
