import { formatQuantity } from '../../../base/quantity.ts';
import { FOOT_M } from '../../../base/units.ts';
import { usualEmitters } from '../../../catalog/plant-emitters.ts';
import type { Plant } from '../../../plan/records.ts';
import { textureOf } from '../../soil/index.ts';
import { agree, counted } from '../../wording.ts';
import { NOTHING, refsTo, says, type Rule, type ZoneInput } from './rule.ts';

/** Canopy from which a tree counts as large. */
const LARGE_M = 20 * FOOT_M;
/** A tree counts as grown from this share of its mature canopy, if that is as wide as a small tree's. */
const GROWN_SHARE = 0.8;
const SMALL_TREE_M = 10 * FOOT_M;
/** Part of the canopy's area that a tree should have wetted, percent. */
const WET_PERCENT = { least: 50, aim: 75 } as const;

const SOURCE =
  'wet 50 to 75 percent of the canopy area: Southern Nevada Water Authority, tree irrigation; decline after such changes: Gibson, University of Arizona Extension column; Utah State University, Transitioning Trees';

/**
 * Trees that grew up under spray have roots all round. Large ones (canopy of 20 ft or more), and grown ones of which a
 * few emitters would wet less than half the canopy's area, need rings of dripline and a slow change.
 */
export const largeTrees: Rule = (input) => {
  const trees = input.plants.filter(({ plantClass }) => plantClass === 'tree');
  const concerned = trees.filter(
    (tree) => isLarge(tree) || (isGrown(tree) && wetPercent(tree, input) < WET_PERCENT.least),
  );
  if (concerned.length === 0) return NOTHING;
  const widest = concerned.reduce((most, tree) => (canopyOf(tree) > canopyOf(most) ? tree : most));
  const percent = Math.min(...concerned.map((tree) => wetPercent(tree, input)));
  const canopy = formatQuantity('length', canopyOf(widest), input.units);
  return says(input, {
    rule: 'large-trees',
    speaks: 'condition',
    value: percent,
    limit: WET_PERCENT.least,
    unit: '%',
    source: SOURCE,
    message: `${counted(concerned.length, 'large or grown tree')} (canopy up to ${canopy}) ${agree(concerned.length, 'has', 'have')} roots in all that the sprays wet; a few emitters would wet about ${percent < 1 ? 'under 1' : Math.round(percent)} % of the canopy's area, and ${WET_PERCENT.least} to ${WET_PERCENT.aim} % is wanted.`,
    waysOut: [
      'Lay rings of dripline out to the edge of the canopy, well off the trunk.',
      'Go over slowly: water deeply by hand or sprays beside the drip in the first season.',
      'Keep cutting of roots to a minimum, and ask an arborist about trees of value.',
    ],
    refs: refsTo('plants', concerned),
  });
};

function canopyOf({ canopyNowM, canopyMatureM }: Plant): number {
  return canopyNowM ?? canopyMatureM;
}

function isLarge(tree: Plant): boolean {
  return canopyOf(tree) >= LARGE_M - 1e-6;
}

function isGrown({ canopyNowM, canopyMatureM }: Plant): boolean {
  return (
    canopyNowM !== null && canopyMatureM >= SMALL_TREE_M - 1e-6 && canopyNowM >= GROWN_SHARE * canopyMatureM
  );
}

/** Diameter of the ground that one emitter wets by soil: 12, 18, 24 in for sand, loam, clay (S. D. Union-Tribune, 2012). */
function spreadM({ plan }: ZoneInput): number {
  const { texture } = textureOf(plan.soil);
  if (texture === null) return 1.5 * FOOT_M;
  // Clay loams end in "loam" and wet as loams do.
  if (/(?:^|\s)loam$|^silt$/.test(texture)) return 1.5 * FOOT_M;
  return texture.includes('clay') ? 2 * FOOT_M : FOOT_M;
}

/** Share of the canopy's area that the usual point emitters would wet, percent. */
function wetPercent(tree: Plant, input: ZoneInput): number {
  const canopyM = canopyOf(tree);
  const { count } = usualEmitters('tree', canopyM, false);
  return canopyM > 0 ? Math.min(100, (100 * count * spreadM(input) ** 2) / canopyM ** 2) : 100;
}
