import { cu, designEu, dulq, flowVariation, statisticalUniformity } from '../hydraulics/index.ts';
import type { OutletResult, Results, Uniformity } from './results.ts';

/**
 * Flows as shares of the rated flows; null where nothing flows, since shares of nothing say nothing. Outlets that are
 * dry or apart count with no flow: leaving them out would make a zone look the better the more of it fails.
 */
export function uniformityOf(outlets: readonly OutletResult[]): Uniformity | null {
  const shares = sharesOf(outlets);
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
  const shares = sharesOf(outlets);
  let least = Infinity;
  let sum = 0;
  let cvSum = 0;
  let cvSquares = 0;
  outlets.forEach(({ cv, plantId }, i) => {
    const perSquare = (cv * cv) / (plantId === null ? 1 : perPlant.get(plantId)!);
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

const sharesOf = (outlets: readonly OutletResult[]): number[] =>
  outlets.map((outlet) => outlet.flowLph / outlet.ratedFlowLph);
