/** Wet soil below outlets, and how much of each plant's root zone it covers (docs/wetting.md). */
export {
  LONGEST_UNSET_H,
  ROOT_DEPTH_SOURCE,
  USUAL_ROOT_DEPTH_M,
  USUAL_TEXTURE,
  wetRadiusM,
  wettingBasis,
  wetWidths,
  type WettingBasis,
  type WetWidth,
} from './basis.ts';
export {
  SHIFT_SOURCE,
  wettedAreas,
  wettingFlowLph,
  type WettedAreas,
  type WettingOutlet,
  type WettingPlan,
} from './areas.ts';
export {
  driestPlants,
  rootShareOf,
  rootShares,
  rootZoneWater,
  usualFlowLph,
  WETTED_AIM,
  WETTED_AIM_SOURCE,
  type DriestPlant,
  type RootShare,
  type RootZoneWater,
} from './shares.ts';
export { wetOutline, type WetPatch } from './outline.ts';
