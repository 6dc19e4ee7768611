import type { ReactElement } from 'react';
import { formatQuantity } from '../../../base/quantity.ts';
import type { Band } from '../../../layout/bands/index.ts';
import { useEditorState } from '../../services.ts';
import { useWords } from '../../words/index.ts';

/** Bands of a slope from the lowest up, with rise, pressure and area. */
export function BandTable({ bands }: { readonly bands: readonly Band[] }): ReactElement {
  const words = useWords().slopes;
  const units = useEditorState((state) => state.units);
  return (
    <table className="schedule" aria-label={words.bands(bands.length)}>
      <thead>
        <tr>
          <th scope="col">{words.band}</th>
          <th scope="col">{words.rises}</th>
          <th scope="col">{words.pressure}</th>
          <th scope="col">{words.area}</th>
        </tr>
      </thead>
      <tbody>
        {bands.map(({ number, riseM, pressureKpa, areaM2, parts }) => (
          <tr key={number}>
            <th scope="row">
              {words.bandName(number, bands.length)}
              {words.parts(parts.length)}
            </th>
            <td>{formatQuantity('length', riseM, units)}</td>
            <td>{formatQuantity('pressure', pressureKpa, units)}</td>
            <td>{formatQuantity('area', areaM2, units)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
