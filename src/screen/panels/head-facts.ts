import type { Head } from '../../plan/records.ts';

/** Facts of a head, whether it stands on the plan or is still to be placed. */
export type HeadFacts = Omit<Head, 'id' | 'at'>;
export type ChangeHead = (fields: (head: HeadFacts) => Partial<HeadFacts> | null) => void;
