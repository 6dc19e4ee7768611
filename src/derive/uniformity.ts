import { cu, designEu, dulq, flowVariation, statisticalUniformity } from '../hydraulics/index.ts';
import { plantsOf } from '../plan/emitter-plants.ts';
import type { OutletResult, PlacedOutlet, Results, Uniformity } from './results.ts';

/**
 * Flows as shares of the rated flows; null where nothing flows, since shares of nothing say nothing. Outlets that are
 * dry or apart count with no flow: leaving them out would make a zone look the better the more of it fails.
 */
export function uniformityOf(outlets: readonly OutletResult[]): Uniformity | null {
  return fromShares(sharesOf(outlets, flowsOf(outlets)));
}

/** All figures of uniformity at once; flows in L/h in the order of the outlets. */
export function uniformitiesOf(
  outlets: readonly PlacedOutlet[],
  flowLph: ArrayLike<number>,
): Pick<Results, 'uniformity' | 'eu' | 'us'> {
  const shares = sharesOf(outlets, flowLph);
  return { uniformity: fromShares(shares), ...variedFromShares(outlets, shares) };
}

function fromShares(shares: Float64Array): Uniformity | null {
  if (!shares.some((share) => share > 0)) return null;
  return { dulq: dulq(shares), cu: cu(shares), flowVariation: flowVariation(shares) };
}

/**
 * Uniformity with manufacturing variation, percent, over the shares of the rated flows. Design emission uniformity:
 * 100 (1 - 1.27 Cv / sqrt(e)) qmin / qmean (Keller and Karmeli 1974); statistical uniformity:
 * 100 (1 - sqrt(Vh^2 + Cv^2 / e)), Vh the coefficient of variation of the flows as a sample (Bralts; both titles from
 * memory). e is the number of emitters that name one plant; an emitter without a plant stands alone, and one that plants
 * share counts for the plant with the fewest. Mixed emitters count with the mean of Cv / sqrt(e), and of Cv^2 / e.
 */
export function variedUniformity(outlets: readonly OutletResult[]): Pick<Results, 'eu' | 'us'> {
  return variedFromShares(outlets, sharesOf(outlets, flowsOf(outlets)));
}

function variedFromShares(
  outlets: readonly PlacedOutlet[],
  shares: Float64Array,
): Pick<Results, 'eu' | 'us'> {
  const none = { eu: null, us: null };
  if (outlets.length === 0) return none;
  const perPlant = new Map<string, number>();
  for (const outlet of outlets) {
    if (isAlone(outlet)) continue;
    for (const id of plantsOf(outlet)) perPlant.set(id, (perPlant.get(id) ?? 0) + 1);
  }
  let least = Infinity;
  let sum = 0;
  let cvSum = 0;
  let cvSquares = 0;
  outlets.forEach((outlet, i) => {
    const { cv } = outlet;
    const fewest = isAlone(outlet)
      ? Infinity
      : plantsOf(outlet).reduce((few, id) => Math.min(few, perPlant.get(id)!), Infinity);
    const perSquare = (cv * cv) / (fewest === Infinity ? 1 : fewest);
    least = Math.min(least, shares[i]!);
    sum += shares[i]!;
    cvSum += Math.sqrt(perSquare);
    cvSquares += perSquare;
  });
  const count = outlets.length;
  const mean = sum / count;
  if (!(mean > 0)) return none;
  const hydraulicCv = count > 1 ? 1 - statisticalUniformity(shares) / 100 : 0;
  return {
    // The emitters of each plant are in the mean of Cv / sqrt(e) already.
    eu: Math.max(0, designEu(Math.min(1, cvSum / count), 1, least / mean)),
    us: 100 * (1 - Math.hypot(hydraulicCv, Math.sqrt(cvSquares / count))),
  };
}

/** Whether an outlet names no plant: most are built into tubing, and need no list of plants. */
const isAlone = ({ plantId, alsoPlantIds }: PlacedOutlet): boolean =>
  plantId === null && alsoPlantIds === undefined;

const flowsOf = (outlets: readonly OutletResult[]): Float64Array =>
  Float64Array.from(outlets, ({ flowLph }) => flowLph);

function sharesOf(outlets: readonly PlacedOutlet[], flowLph: ArrayLike<number>): Float64Array {
  const shares = new Float64Array(outlets.length);
  for (let i = 0; i < shares.length; i++) shares[i] = flowLph[i]! / outlets[i]!.ratedFlowLph;
  return shares;
}
