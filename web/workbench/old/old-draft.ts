import type { z } from 'zod';
import type { Brief } from '../../../trials/schema/brief.ts';
import type { OldColumn, OldTables } from '../../../trials/schema/old-tables.ts';
import type { Fault } from '../../../trials/schema/shapes.ts';

/** Which of the two files. */
export type OldKind = 'mixes' | 'scores';

/** A chosen file; `columns` is null as long as they are guessed. */
export interface OldFile {
  name: string;
  base64: string;
  columns: readonly OldColumn[] | null;
}

/** What the maker has chosen and typed so far. */
export interface OldDraft {
  /** Empty = a new trial. */
  trial: string;
  name: string;
  mixes: OldFile | null;
  scores: OldFile | null;
  before: string;
  reference: string;
  knowing: string;
}

export const EMPTY_OLD: OldDraft = {
  trial: '',
  name: '',
  mixes: null,
  scores: null,
  before: '',
  reference: '',
  knowing: '',
};

/** Another trial names its columns otherwise: they are guessed anew. */
export function withTrial(draft: OldDraft, trial: string): OldDraft {
  const guessed = (file: OldFile | null) => file && { ...file, columns: null };
  return { ...draft, trial, mixes: guessed(draft.mixes), scores: guessed(draft.scores) };
}

/** One column is something else; the others stay as they were seen. */
export function withColumn(
  draft: OldDraft,
  kind: OldKind,
  { seen, index, column }: { seen: readonly OldColumn[]; index: number; column: OldColumn },
): OldDraft {
  const file = draft[kind];
  if (file === null) return draft;
  const columns = (file.columns ?? seen).map((one, i) => (i === index ? column : plain(one)));
  return { ...draft, [kind]: { ...file, columns } };
}

function plain({ as, of, scale }: OldColumn): OldColumn {
  return { as, ...(of === undefined ? {} : { of }), ...(scale === undefined ? {} : { scale }) };
}

/** What is asked of the workbench; null until both files are chosen. */
export function requestOf(draft: OldDraft): z.input<typeof OldTables> | null {
  const { mixes, scores } = draft;
  if (mixes === null || scores === null) return null;
  const sent = ({ name, base64, columns }: OldFile) => ({
    name,
    base64,
    ...(columns === null ? {} : { columns: [...columns] }),
  });
  return {
    trial: draft.trial === '' ? null : draft.trial,
    name: draft.name,
    mixes: sent(mixes),
    scores: sent(scores),
    before: draft.before,
    reference: draft.reference.trim(),
    knowing: draft.knowing
      .split(',')
      .map((name) => name.trim())
      .filter((name) => name !== ''),
  };
}

/** What a column may be, in words, as choices of a list. `brief` is null for a new trial. */
export function roleChoices(kind: OldKind, brief: Brief | null): (readonly [string, string])[] {
  const own = kind === 'mixes' ? mixChoices(brief) : scoreChoices(brief);
  return [...own, [choiceOf({ as: 'pass' }), 'not needed']];
}

function mixChoices(brief: Brief | null): (readonly [string, string])[] {
  const names = [
    [choiceOf({ as: 'mix' }), 'the name of the mix'],
    [choiceOf({ as: 'blend' }), 'the bottle it came from'],
  ] as const;
  if (brief === null)
    return [
      ...names,
      [choiceOf({ as: 'component' }), 'grams of a component'],
      [choiceOf({ as: 'setting' }), 'a setting (dose, acid …)'],
    ];
  return [
    ...names,
    ...brief.components.flatMap(({ id, name, stocks }) => [
      [choiceOf({ as: 'component', of: id }), `grams of ${name}`] as const,
      ...(stocks ?? []).map(
        (strength) =>
          [
            choiceOf({ as: 'component', of: `${id}@${strength}` }),
            `grams of ${name}, ${strength} % stock`,
          ] as const,
      ),
    ]),
    ...brief.settings.map(({ id, name }) => [choiceOf({ as: 'setting', of: id }), name] as const),
  ];
}

function scoreChoices(brief: Brief | null): (readonly [string, string])[] {
  const scores =
    brief === null
      ? [[choiceOf({ as: 'attribute' }), 'a score'] as const]
      : brief.attributes.map(
          ({ id, name }) => [choiceOf({ as: 'attribute', of: id }), `score: ${name}`] as const,
        );
  return [
    [choiceOf({ as: 'mix' }), 'the name of the mix'],
    [choiceOf({ as: 'assessor' }), 'who tasted'],
    [choiceOf({ as: 'session' }), 'the sitting'],
    [choiceOf({ as: 'replicate' }), 'which time the same mix'],
    [choiceOf({ as: 'position' }), 'which cup in the order'],
    ...scores,
  ];
}

/** A column's role as one word, for lists of choices. */
export function choiceOf({ as, of }: OldColumn): string {
  return of === undefined ? as : `${as} ${of}`;
}

/** The role behind such a word; an attribute of a new trial keeps its scale or gets the usual one. */
export function columnOf(choice: string, was: OldColumn, isNew: boolean): OldColumn {
  const [as, ...of] = choice.split(' ') as [OldColumn['as'], ...string[]];
  if (of.length > 0) return { as, of: of.join(' ') };
  return as === 'attribute' && isNew ? { as, scale: was.scale ?? [0, 100] } : { as };
}

/** Faults of a file by the cell they point at: `line` and the heading of the column. */
export function faultsByCell(faults: readonly Fault[], file: string): Map<string, string> {
  const cells = new Map<string, string>();
  for (const { where, found, allowed } of faults) {
    const place = /^, line (\d+), column (.*)$/.exec(where.startsWith(file) ? where.slice(file.length) : '');
    if (place) cells.set(cellKey(Number(place[1]), place[2]!), `found ${found}, allowed ${allowed}`);
  }
  return cells;
}

/** Names a cell. */
export function cellKey(line: number, heading: string): string {
  return `${line} ${heading}`;
}
