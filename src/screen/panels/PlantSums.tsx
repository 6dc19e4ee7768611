import type { ReactElement } from 'react';
import type { PlantSum, PlantTotals } from '../../plan/plant-list/index.ts';
import { useWords } from '../words/index.ts';

const shown = (count: number) => count.toLocaleString('en-US');

/** Sums of the plant list by class and by water use. */
export function PlantSums({ totals }: { readonly totals: PlantTotals }): ReactElement {
  const all = useWords();
  const words = all.planting;
  const row = (name: string, { placed, toPlace }: PlantSum) => (
    <tr key={name}>
      <th scope="row">{name}</th>
      <td>{shown(placed)}</td>
      <td>{shown(toPlace)}</td>
      <td>{shown(placed + toPlace)}</td>
    </tr>
  );
  return (
    <table className="schedule plant-sums" aria-label={words.sumOf}>
      <thead>
        <tr>
          <th scope="col">{words.sumOf}</th>
          <th scope="col">{words.sumPlaced}</th>
          <th scope="col">{words.sumToPlace}</th>
          <th scope="col">{words.sumAll}</th>
        </tr>
      </thead>
      <tbody>{totals.byClass.map(([id, sum]) => row(all.classes[id], sum))}</tbody>
      <tbody>
        {totals.byWaterUse.map(([id, sum]) => row(id === null ? words.useUnknown : words.use[id], sum))}
      </tbody>
      <tbody>{row(words.all, totals.all)}</tbody>
    </table>
  );
}
