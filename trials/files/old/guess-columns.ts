import type { Brief } from '../../schema/brief.ts';
import type { OldColumn, OldRole } from '../../schema/old-tables.ts';
import { plainText } from '../../schema/plain-text.ts';
import type { Table } from '../csv-table.ts';
import { parseNumber } from '../number-text.ts';
import { withoutUnit } from './column-names.ts';

/** Which of the two files a column stands in. */
export type OldKind = 'mixes' | 'scores';

type Words = readonly [OldRole, readonly string[]];

const MIX_WORDS: Words = [
  'mix',
  ['mix', 'sample', 'variant', 'variation', 'recipe', 'version', 'product', 'drink'],
];
const WORDS: Record<OldKind, readonly Words[]> = {
  mixes: [
    ['blend', ['blend', 'bottle']],
    MIX_WORDS,
    ['mix', ['name', 'code']],
    ['setting', ['dose', 'dosage', 'temperature', 'age', 'acid', 'sugar', 'sweetness']],
    ['pass', ['total', 'sum', 'date', 'round', 'note', 'notes', 'comment', 'remarks', 'no', 'nr']],
  ],
  scores: [
    ['assessor', ['assessor', 'taster', 'panelist', 'panellist', 'judge', 'person', 'who', 'participant']],
    ['session', ['session', 'sitting', 'evening', 'day', 'date']],
    ['replicate', ['replicate', 'repeat', 'repetition', 'rep']],
    ['position', ['position', 'order', 'place', 'cup']],
    MIX_WORDS,
    ['mix', ['code']],
    ['assessor', ['name']],
    [
      'pass',
      ['total', 'sum', 'note', 'notes', 'comment', 'comments', 'remarks', 'time', 'round', 'no', 'nr'],
    ],
  ],
};

/** Whether a heading is one that a guess knows; tells the separator of a file. */
export function isKnownHeading(heading: string, kind: OldKind, brief: Brief | null): boolean {
  return roleByName(heading, kind, brief) !== null;
}

/**
 * Guesses what each column holds: by the names in the brief, then by usual words, then by what stands in it (numbers
 * are components, or attributes). A role that can stand once goes to the first column that asks for it.
 */
export function guessColumns(table: Table, kind: OldKind, brief: Brief | null): OldColumn[] {
  const seen = new Set<string>();
  const headings = table.headings ?? table.header;
  return headings.map((heading, index) => {
    const column = roleByName(heading, kind, brief) ?? roleByCells(table, index, { kind, brief });
    const key = `${column.as} ${column.of ?? ''}`;
    const single =
      column.of !== undefined || !['component', 'setting', 'attribute', 'pass'].includes(column.as);
    if (single && seen.has(key)) return { as: 'pass' };
    seen.add(key);
    return column.as === 'attribute' && brief === null ? { ...column, scale: scaleOf(table, index) } : column;
  });
}

function roleByName(heading: string, kind: OldKind, brief: Brief | null): OldColumn | null {
  if (heading.trim() === '') return { as: 'pass' };
  const named = brief === null ? null : namedBy(brief, heading, kind);
  if (named !== null) return named;
  const words = plainText(withoutUnit(heading)).split(' ');
  for (const [as, list] of WORDS[kind])
    if (list.some((word) => words.includes(word))) return as === 'setting' && brief !== null ? null : { as };
  return null;
}

function namedBy(brief: Brief, heading: string, kind: OldKind): OldColumn | null {
  const [stem = '', strength] = withoutUnit(heading).split('@');
  const asks = plainText(stem);
  const find = (list: readonly { id: string; name: string }[]) =>
    list.find(({ id, name }) => asks === plainText(id) || asks === plainText(name))?.id;
  if (kind === 'scores') {
    const of = find(brief.attributes);
    return of === undefined ? null : { as: 'attribute', of };
  }
  const component = find(brief.components);
  if (component !== undefined)
    return {
      as: 'component',
      of: strength === undefined ? component : `${component}@${strength.replace('%', '').trim()}`,
    };
  const setting = find(brief.settings);
  return setting === undefined ? null : { as: 'setting', of: setting };
}

function roleByCells(
  table: Table,
  index: number,
  { kind, brief }: { kind: OldKind; brief: Brief | null },
): OldColumn {
  if (brief !== null) return { as: 'pass' };
  const numbers = numbersIn(table, index);
  if (numbers === null || numbers.length === 0) return { as: 'pass' };
  if (kind === 'scores') return { as: 'attribute' };
  return { as: numbers.every((value) => value >= 0) ? 'component' : 'pass' };
}

/** The numbers of a column, null where something else stands in it too. */
export function numbersIn(table: Table, index: number): number[] | null {
  const cells = table.rows.map(({ cells: row }) => row[index]!).filter((cell) => cell.trim() !== '');
  const numbers = cells.map((cell) => parseNumber(cell, table.separator !== ','));
  // One slip of the pen does not make a column of numbers something else.
  const good = numbers.filter((value): value is number => value !== null);
  return good.length * 2 > numbers.length ? good : null;
}

/** Usual scales, the shortest that holds every score; a guess that the maker sees and can change. */
const SCALES: readonly (readonly [number, number])[] = [
  [0, 10],
  [0, 15],
  [0, 100],
];

function scaleOf(table: Table, index: number): [number, number] {
  const numbers = numbersIn(table, index) ?? [];
  const [least, most] = [Math.min(...numbers), Math.max(...numbers)];
  const heading = plainText((table.headings ?? table.header)[index]!);
  const whole = numbers.every(Number.isInteger);
  if (/\b(liking|overall|like)\b/.test(heading) && whole && least >= 1 && most <= 9) return [1, 9];
  const usual = SCALES.find(([low, high]) => least >= low && most <= high);
  return usual ? [usual[0], usual[1]] : [Math.floor(least), Math.max(Math.ceil(most), Math.floor(least) + 1)];
}
