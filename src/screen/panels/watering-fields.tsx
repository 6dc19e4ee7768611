import type { ReactElement } from 'react';
import type { Watering } from '../../plan/records.ts';
import { QuantityField } from '../fields/QuantityField.tsx';
import { useWords } from '../words/index.ts';

/** What a valve has from the start once its minutes are typed: once a day, each day. */
const FIRST: Omit<Watering, 'minutesPerStart'> = { startsPerDay: 1, intervalDays: 1 };

/** How a station is watered: minutes first, the rest once they are set. */
export function WateringFields({
  value,
  onChange,
}: {
  readonly value: Watering | null;
  onChange(value: Watering | null): void;
}): ReactElement {
  const words = useWords().checksFacts.watering;
  const set = (fields: Partial<Watering>) => value && onChange({ ...value, ...fields });
  return (
    <>
      <QuantityField
        label={words.minutes}
        kind="count"
        value={value?.minutesPerStart ?? null}
        nullable
        min={1}
        max={1440}
        empty={words.none}
        hint={words.hint}
        onChange={(minutesPerStart) =>
          onChange(minutesPerStart === null ? null : { ...FIRST, ...value, minutesPerStart })
        }
      />
      {value && (
        <>
          <QuantityField
            label={words.starts}
            kind="count"
            value={value.startsPerDay}
            min={1}
            max={48}
            onChange={(startsPerDay) => startsPerDay !== null && set({ startsPerDay })}
          />
          <QuantityField
            label={words.interval}
            kind="count"
            value={value.intervalDays}
            min={1}
            max={366}
            onChange={(intervalDays) => intervalDays !== null && set({ intervalDays })}
          />
        </>
      )}
    </>
  );
}
