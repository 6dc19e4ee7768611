import { INTAKE_TABLES, intakeTable, type IntakeGround, type IntakeTable } from '../../catalog/index.ts';
import type { Soil, SoilCover } from '../../plan/records.ts';
import { textureOf } from './texture.ts';

/** What one table says of the soil on its slope. */
export interface IntakeFigure {
  readonly id: string;
  readonly name: string;
  /** The figure to reckon with: the lowest that the table has for the soil, mm/h. */
  readonly mmPerH: number;
  readonly lowMmPerH: number;
  readonly highMmPerH: number;
  readonly source: string;
  /** Which of its figures are from memory; `null` for none. */
  readonly fromMemory: string | null;
  /** Whether it holds for this slope; else for level ground. */
  readonly bySlope: boolean;
  /** The row taken where the table has none for the texture itself. */
  readonly standIn: string | null;
}

/** How fast the soil takes in water, mm/h. */
export interface SoilIntake {
  readonly mmPerH: number;
  readonly basis: 'measured' | 'table';
  /** The table used; `null` where the intake was measured. */
  readonly tableId: string | null;
  readonly source: string;
  /** Lowest and highest figure of all tables for this soil; the measured one alone where the texture is not known. */
  readonly range: { readonly lowMmPerH: number; readonly highMmPerH: number };
  /** What every table says that knows the texture. */
  readonly tables: readonly IntakeFigure[];
  /** Whether landscape fabric, as measured, lets through less than the soil would take. */
  readonly limitedByFabric: boolean;
  /** What was assumed because it is not known, in sentences. */
  readonly notes: readonly string[];
}

/** Covers that break the force of the drops. Gravel and fabric do not count, nor what is not known: the safer way. */
const COVERED: readonly (SoilCover | null)[] = ['mulch', 'netting', 'plants'];

/**
 * Intake of the soil on a slope in percent (`null`: not known, taken as level). A measured intake goes before the
 * tables and holds as it is, whatever the slope. Else the chosen table, or the usual one where none is chosen or the
 * chosen one has no figure. Measured landscape fabric is the upper limit. `null` where neither an intake nor a texture
 * is known.
 */
export function intakeOf(soil: Soil, slopePercent: number | null): SoilIntake | null {
  const { texture } = textureOf(soil);
  const slope = slopePercent !== null && Number.isFinite(slopePercent) ? Math.abs(slopePercent) : null;
  const ground: IntakeGround | null = texture && {
    texture,
    slopePercent: slope ?? 0,
    covered: COVERED.includes(soil.coverKind),
    compacted: soil.compacted === true,
  };
  const tables = ground ? INTAKE_TABLES.flatMap((table) => figure(table, ground)) : [];
  const chosen = tables.find(({ id }) => id === soil.intakeTable) ?? tables[0];
  const bare = soil.intakeMmPerH ?? chosen?.mmPerH;
  if (bare === undefined) return null;
  const isMeasured = soil.intakeMmPerH !== null;
  const fabric = soil.fabricIntakeMmPerH;
  const limitedByFabric = fabric !== null && fabric < bare;
  const lows = tables.map(({ lowMmPerH }) => lowMmPerH);
  const highs = tables.map(({ highMmPerH }) => highMmPerH);
  return {
    mmPerH: limitedByFabric ? fabric : bare,
    basis: isMeasured ? 'measured' : 'table',
    tableId: isMeasured ? null : (chosen?.id ?? null),
    source: isMeasured ? 'measured on the site' : (chosen?.source ?? ''),
    range: tables.length
      ? { lowMmPerH: Math.min(...lows), highMmPerH: Math.max(...highs) }
      : { lowMmPerH: bare, highMmPerH: bare },
    tables,
    limitedByFabric,
    notes: isMeasured ? [] : notesOn(soil, slope, chosen),
  };
}

function figure(table: IntakeTable, ground: IntakeGround): IntakeFigure[] {
  const found = table.intake(ground);
  if (!found) return [];
  const { id, name, source, fromMemory, bySlope } = table;
  return [{ id, name, mmPerH: found.lowMmPerH, ...found, source, fromMemory, bySlope }];
}

function notesOn(soil: Soil, slope: number | null, used: IntakeFigure | undefined): string[] {
  const notes: string[] = [];
  if (!used) return notes;
  const wanted = soil.intakeTable;
  if (wanted !== null && wanted !== used.id) {
    const name = intakeTable(wanted)?.name;
    notes.push(
      name
        ? `The table “${name}” has no figure for this soil: the usual table is used.`
        : 'The chosen table is not known here: the usual table is used.',
    );
  }
  if (used.standIn)
    notes.push(`The table has no row of its own for this soil: that of ${used.standIn} is used.`);
  if (!used.bySlope) notes.push('The table holds for level ground.');
  else if (slope === null) notes.push('The slope is not known: taken as level. Set levels in Survey.');
  if (used.id === INTAKE_TABLES[0]!.id && soil.coverKind === null) {
    notes.push('The cover is not known: taken as bare, which is the safer way.');
  }
  return notes;
}
