import type { Ref } from '../../plan/records.ts';

/** Something the person should know of what was laid out. */
export interface PointNote {
  readonly rule:
    | 'no-place'
    | 'fewer'
    | 'sleeve'
    | 'building'
    | 'feeder-long'
    | 'feeder-crosses'
    | 'no-start'
    | 'no-tubing'
    | 'bad-plant'
    | 'flow-high'
    | 'shared';
  readonly message: string;
  readonly refs: readonly Ref[];
}
