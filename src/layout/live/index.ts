/** Fills that follow what they were drawn for, and the tubing that leads water to them. */
export { follow, followed, MOST_WHILE_DRAGGED, type Followed, type FollowNote } from './follow.ts';
export { laidAsItIs, layFill, type LedFill } from './lay.ts';
export { LEAD_REACH_M, type Leads } from './lead.ts';
export { waterNear, type Water } from './water.ts';
export { ringEdit, type RingedTree } from './ring-edit.ts';
