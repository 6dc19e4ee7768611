import { add, change, changePart, remove, together, type Edit } from '../../plan/edits/index.ts';
import type { Fix, RecordChange } from '../results.ts';

/** The edit of a fix, as one step of history. Records that are gone by then are left out. */
export function fixEdit(fix: Fix): Edit {
  return together(fix.label, fix.changes.map(editOf));
}

function editOf(given: RecordChange): Edit {
  switch (given.kind) {
    case 'set':
      return change('', given.table, given.ids, given.fields as never);
    case 'add':
      return add('', given.table, given.record as never);
    case 'remove':
      return remove('', given.refs);
    case 'part':
      return changePart('', given.part, given.fields as never);
  }
}
