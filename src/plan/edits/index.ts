export { carryRunEnds, type Carrier } from './attached.ts';
export { together, type Edit } from './edit.ts';
export { freshId, freshIds } from './ids.ts';
export { add, change, changePart, setPhoto } from './put.ts';
export { addLaterals, bendLateral, moveLateralEnd, splitLateral, type LateralFields } from './laterals.ts';
export {
  changeHeads,
  middleDeg,
  pulledHandle,
  pulledPattern,
  withSweep,
  wholeTurn,
  type HeadHandle,
} from './heads.ts';
export { remove } from './remove.ts';
export { move } from './move.ts';
export { duplicated } from './duplicate.ts';
export { deleteVertex, insertVertex, moveVertex, ringOf, FEWEST, type VertexRef } from './vertices.ts';
