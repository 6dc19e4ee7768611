/** Fills that follow what they were drawn for, and the tubing that leads water to them. */
export { follow, followed, MOST_WHILE_DRAGGED, type Followed, type FollowNote } from './follow.ts';
export { layFill, type LedFill } from './lay.ts';
export { LEAD_REACH_M, waterNear, type Leads, type Water } from './lead.ts';
export { ringEdit, type RingedTree } from './ring-edit.ts';
