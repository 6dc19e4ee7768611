import { LINK, type Finding, type Network, type Solution } from '../index.ts';
import { networkOf, type Sketch } from './build.ts';

/** A plain outlet of exponent 1/2, coefficient in L/h. */
export const outlet = (node: string, k = 1) => ({ node, k, x: 0.5 });
export const kinds = (solution: Solution) => solution.findings.map((f) => f.kind);
export const finding = (solution: Solution, kind: Finding['kind']) =>
  solution.findings.find((f) => f.kind === kind);

/** What is amiss with the measures of an answer; empty for a sound one. */
export function faults(solution: Solution): string[] {
  const found: string[] = [];
  if (!solution.converged) found.push('not converged');
  if (!(solution.massErrorM3s < 1e-13)) found.push(`mass error ${solution.massErrorM3s} m3/s`);
  if (!(solution.energyErrorM < 1e-7)) found.push(`energy error ${solution.energyErrorM} m`);
  return found;
}

/** The links with the pipes turned round. */
export function reversedPipes({ links }: Network): Network['links'] {
  const turn = (ends: Int32Array, others: Int32Array) =>
    ends.map((v, l) => (links.kind[l] === LINK.pipe ? others[l]! : v));
  return { ...links, from: turn(links.from, links.to), to: turn(links.to, links.from) };
}

/** Source, a part, then a pipe of 20 m with an outlet at its end. */
export function withPart(part: Sketch['links'][number], more: Partial<Sketch> = {}, sourceM = 30): Network {
  return networkOf({
    nodes: [{ id: 'S', fixedHeadM: sourceM }, { id: 'A' }, { id: 'B', zM: 1 }],
    links: [part, { from: 'A', to: 'B', lengthM: 20 }],
    outlets: [outlet('B', 10)],
    ...more,
  });
}
