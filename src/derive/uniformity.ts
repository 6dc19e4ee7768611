import { cu, dulq, flowVariation } from '../hydraulics/index.ts';
import type { OutletResult, Results, Uniformity } from './results.ts';

/**
 * Flows as shares of the rated flows; null where nothing flows, since shares of nothing say nothing. Outlets that are
 * dry or apart count with no flow: leaving them out would make a zone look the better the more of it fails.
 */
export function uniformityOf(outlets: readonly OutletResult[]): Uniformity | null {
  const shares = outlets.map((outlet) => outlet.flowLph / outlet.ratedFlowLph);
  if (!shares.some((share) => share > 0)) return null;
  return { dulq: dulq(shares), cu: cu(shares), flowVariation: flowVariation(shares) };
}

/**
 * Uniformity with manufacturing variation, percent, over the shares of the rated flows. Design emission uniformity:
 * 100 (1 - 1.27 Cv / sqrt(e)) qmin / qmean (Keller and Karmeli 1974); statistical uniformity:
 * 100 (1 - sqrt(Vh^2 + Cv^2 / e)), Vh the coefficient of variation of the flows as a sample (Bralts; both titles from
 * memory). e is the number of emitters that name one plant; an emitter without a plant stands alone. Mixed emitters
 * count with the mean of Cv / sqrt(e), and of Cv^2 / e.
 */
export function variedUniformity(outlets: readonly OutletResult[]): Pick<Results, 'eu' | 'us'> {
  const none = { eu: null, us: null };
  if (outlets.length === 0) return none;
  const perPlant = new Map<string, number>();
  for (const { plantId } of outlets)
    if (plantId !== null) perPlant.set(plantId, (perPlant.get(plantId) ?? 0) + 1);
  let least = Infinity;
  let sum = 0;
  let squares = 0;
  let cvSum = 0;
  let cvSquares = 0;
  for (const { flowLph, ratedFlowLph, cv, plantId } of outlets) {
    const share = flowLph / ratedFlowLph;
    const perSquare = (cv * cv) / (plantId === null ? 1 : perPlant.get(plantId)!);
    least = Math.min(least, share);
    sum += share;
    squares += share * share;
    cvSum += Math.sqrt(perSquare);
    cvSquares += perSquare;
  }
  const count = outlets.length;
  const mean = sum / count;
  if (!(mean > 0)) return none;
  const variance = count > 1 ? Math.max(0, (squares - count * mean * mean) / (count - 1)) : 0;
  return {
    eu: 100 * Math.max(0, 1 - 1.27 * (cvSum / count)) * (least / mean),
    us: 100 * (1 - Math.sqrt(variance / (mean * mean) + cvSquares / count)),
  };
}
