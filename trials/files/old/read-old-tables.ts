import { REFERENCE, type Serving, WARMUP } from '../../../engine/panel/observations.ts';
import type { Brief } from '../../schema/brief.ts';
import { checkBrief } from '../../schema/check-brief.ts';
import { describeFault, FaultList, InputFaults } from '../../schema/faults.ts';
import type { OldColumn, OldTable, OldTables } from '../../schema/old-tables.ts';
import type { Fault } from '../../schema/shapes.ts';
import { headingOf, readTable, renameColumns, type Table } from '../csv-table.ts';
import { type MixRow, mixesOf } from '../read-mixes.ts';
import { scoresOf } from '../read-scores.ts';
import { decodeText } from '../text.ts';
import { briefOfColumns, type Mapped } from './brief-of-columns.ts';
import { isNamed, namesOf } from './column-names.ts';
import { guessColumns, isKnownHeading, type OldKind } from './guess-columns.ts';

/** A cup of the old scores with the line that it stands in. */
export interface OldServing extends Serving {
  line: number;
}

/** Old files as far as they could be read. */
export interface OldRead {
  mixes: Mapped | null;
  scores: Mapped | null;
  faults: Fault[];
  warnings: string[];
  brief: Brief | null;
  /** Null where there are faults. Names are those of the files still. */
  data: { mixes: MixRow[]; servings: OldServing[] } | null;
}

/**
 * Reads old files by what their columns are, guessed where that is not said. Everything wrong is told at once, by
 * file, line and column as the file has them.
 * @param brief the trial's, or null: then the columns make one
 */
export function readOldTables(given: OldTables, brief: Brief | null): OldRead {
  const faults: Fault[] = [];
  const taken = new Set<string>();
  const mixes = caught(faults, () => mapped(given.mixes, 'mixes', { brief, taken, faults }));
  const scores = caught(faults, () => mapped(given.scores, 'scores', { brief, taken, faults }));
  const nothing = { mixes, scores, faults, warnings: [], brief, data: null };
  if (mixes === null || scores === null || faults.length > 0) return nothing;
  const judged = brief ?? draftBrief(given.name, { mixes, scores, faults });
  if (judged === null) return nothing;
  const read = readRows({ mixes, scores }, judged, given.reference, faults);
  return { ...nothing, warnings: read.warnings, brief: judged, data: faults.length > 0 ? null : read };
}

function caught<T>(faults: Fault[], act: () => T): T | null {
  try {
    return act();
  } catch (thrown) {
    if (!(thrown instanceof InputFaults)) throw thrown;
    faults.push(...thrown.faults);
    return null;
  }
}

interface Reading {
  brief: Brief | null;
  taken: Set<string>;
  faults: Fault[];
}

function mapped(file: OldTable, kind: OldKind, { brief, taken, faults }: Reading): Mapped {
  const text = decodeText(Buffer.from(file.base64, 'base64'), file.name);
  const found = new FaultList();
  const table = readTable(text, file.name, (heading) => isKnownHeading(heading, kind, brief), found);
  faults.push(...found.list());
  const columns = table.header.map(
    (_, index) => file.columns?.[index] ?? (file.columns ? { as: 'pass' as const } : undefined),
  );
  const guessed = guessColumns(table, kind, brief);
  const settled = columns.map((column, index): OldColumn => column ?? guessed[index]!);
  faults.push(...roleFaults(table, settled, { kind, brief }));
  return { table, columns: settled, names: namesOf(settled, table.header, taken) };
}

/** Roles that are missing, stand twice or name nothing in the brief. */
function roleFaults(
  table: Table,
  columns: readonly OldColumn[],
  of: { kind: OldKind; brief: Brief | null },
): Fault[] {
  const faults = new FaultList();
  const where = (index: number) => `${table.file}, line 1, column ${table.header[index]}`;
  const count = (as: OldColumn['as']) => columns.filter((column) => column.as === as).length;
  const need = (as: OldColumn['as'], least: number, says: string) => {
    if (count(as) < least)
      faults.addWords(`${table.file}, line 1`, `no column for ${says}`, 'one: choose which it is');
  };
  need('mix', 1, 'the name of the mix');
  if (of.kind === 'mixes') need('component', 2, 'the masses of two components or more');
  else {
    need('assessor', 1, 'who tasted');
    need('attribute', 1, 'a score');
  }
  for (const id of missingIds(columns, of))
    faults.addWords(`${table.file}, line 1`, `no column for ${id}`, 'one: the brief has it');
  const seen = new Map<string, number>();
  columns.forEach(({ as, of: id }, index) => {
    if (as === 'pass' || (isNamed(as) && id === undefined)) {
      if (as !== 'pass' && of.brief !== null)
        faults.add(where(index), 'something new', 'what the brief names');
      return;
    }
    if (isNamed(as) && !isInBrief(as, id!, of.brief)) faults.add(where(index), id, 'what the brief names');
    const first = seen.get(`${as} ${id}`);
    if (first !== undefined)
      faults.addWords(where(index), `the same as column ${table.header[first]}`, 'each once');
    seen.set(`${as} ${id}`, index);
  });
  return faults.list();
}

function missingIds(
  columns: readonly OldColumn[],
  { kind, brief }: { kind: OldKind; brief: Brief | null },
): string[] {
  if (brief === null || kind === 'scores') return [];
  const named = new Set(columns.map(({ of }) => of?.split('@')[0]));
  return [...brief.components, ...brief.settings].filter(({ id }) => !named.has(id)).map(({ name }) => name);
}

function isInBrief(as: 'component' | 'setting' | 'attribute', of: string, brief: Brief | null): boolean {
  if (brief === null) return false;
  const list = { component: brief.components, setting: brief.settings, attribute: brief.attributes }[as];
  return list.some(({ id }) => id === (as === 'component' ? of.split('@')[0] : of));
}

interface Files {
  mixes: Mapped;
  scores: Mapped;
}

function draftBrief(name: string, { mixes, scores, faults }: Files & { faults: Fault[] }): Brief | null {
  const judged = checkBrief(briefOfColumns(name.trim() === '' ? 'Old tastings' : name, mixes, scores));
  if (!('faults' in judged)) return judged.brief;
  faults.push(
    ...judged.faults.map((fault) => ({ ...fault, message: `the brief of these columns: ${fault.message}` })),
  );
  return null;
}

function readRows({ mixes, scores }: Files, brief: Brief, reference: string, faults: Fault[]) {
  const mixTable = renameColumns(mixes.table, mixes.names);
  const scoreTable = renameColumns(scores.table, scores.names);
  const mixesRead = caught(faults, () => mixesOf(mixTable, brief, new FaultList()));
  const names = mixesRead?.mixes.map(({ mix }) => mix);
  const known = names === undefined ? undefined : reference === '' ? names : [...names, reference];
  const context = { brief, mixes: known, mixesFile: mixes.table.file };
  const scoresRead = caught(faults, () => scoresOf(scoreTable, context, new FaultList()));
  const servings = (scoresRead?.servings ?? []).map((serving, index) => ({
    ...serving,
    mix: serving.mix === reference ? REFERENCE : serving.mix,
    line: scores.table.rows[index]!.line,
  }));
  if (
    scoresRead !== null &&
    mixesRead !== null &&
    !servings.some(({ mix }) => mix !== REFERENCE && mix !== WARMUP)
  )
    faults.push(describeFault(scores.table.file, 'no cup of a mix', `cups of mixes of ${mixes.table.file}`));
  const drinks = (mixesRead?.mixes ?? []).filter(({ mix }) => reference === '' || mix !== reference);
  const warnings = [...(mixesRead?.warnings ?? []), ...(scoresRead?.warnings ?? [])];
  return { mixes: drinks, servings, warnings };
}

/** Where a column of a mapped file stands, in the file's own words. */
export function placeOf({ table, names }: Mapped, line: number, column: string): string {
  return `${table.file}, line ${line}, column ${headingOf(renameColumns(table, names), column)}`;
}
