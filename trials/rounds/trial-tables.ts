import type { Serving } from '../../engine/panel/observations.ts';
import type { Brief } from '../schema/brief.ts';
import { csvText } from '../schema/csv-text.ts';
import { asOwnMaterial } from '../shelf/own-material.ts';
import type { AnswerRecord, CupRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { findTrial } from './find.ts';
import { gather } from './gather.ts';
import { ladderViews } from './ladder-view.ts';
import { latestWeighings } from './weighed.ts';

/** A file as it is handed out. */
export interface TextFile {
  name: string;
  text: string;
}

/**
 * A trial as the files that the command reads, and every answer as it came: `brief.json`, `mixes.csv` (grams as
 * weighed), `scores.csv` (cups of opened sittings), `answers.csv` (all messages; a mix is named only where its key is
 * open). Where a mix was tasted at several ages, `scores.csv` holds them as `hours`. Read by `fit` and `panel` (then with
 * `--age hours`) they give the trial's own reading. `materials.json` (where the maker has own materials or limits) goes with `--materials`. Each ladder of doses in use is a
 * file for `threshold`, of those who answered every rung.
 */
export function trialTables(store: Store, trial: string): TextFile[] {
  const { brief } = findTrial(store, trial).latest;
  return [
    { name: 'brief.json', text: `${JSON.stringify(brief, null, 2)}\n` },
    { name: 'mixes.csv', text: mixesCsv(store, trial, brief) },
    { name: 'scores.csv', text: scoresCsv(store, trial, brief) },
    { name: 'answers.csv', text: answersCsv(store, trial) },
    ...ladderFiles(store, trial),
    ...ownMaterials(store),
  ];
}

/** The maker's own materials and limits, where there are any, as `--materials` reads them. */
function ownMaterials(store: Store): TextFile[] {
  const materials = store.shelf.materials().flatMap((one) => asOwnMaterial(one) ?? []);
  const limits = store.shelf.limits().flatMap(({ entry, away }) => (away === null ? [entry] : []));
  if (materials.length + limits.length === 0) return [];
  const text = `${JSON.stringify({ format: 'materials/1', materials, limits }, null, 2)}\n`;
  return [{ name: 'materials.json', text }];
}

function ladderFiles(store: Store, trial: string): TextFile[] {
  return ladderViews(store, trial)
    .filter(({ away }) => away === null)
    .flatMap(({ ladder, component, concentrations, trays }) => {
      const rows = trays
        .filter(({ named }) => named.every((code) => code !== null))
        .flatMap(({ taster, threes, named }) =>
          threes.map(({ odd }, k) => [taster, concentrations[k]!, named[k] === odd ? 1 : 0]),
        );
      if (rows.length === 0) return [];
      const text = csvText(['assessor', 'concentration', 'correct'], rows);
      return [{ name: `ladder-${ladder}-${component}.csv`, text }];
    });
}

function mixesCsv(store: Store, trial: string, brief: Brief): string {
  const weighings = latestWeighings(store, trial);
  const rows = store.rounds.list(trial).flatMap(({ round }) =>
    store.rounds
      .mixes(trial, round)
      .filter(({ again, blend }) => !again && weighings.has(blend))
      .map(({ mix, blend, planned }) => ({ mix, blend, round, planned, grams: weighings.get(blend)!.grams })),
  );
  const ids = brief.components.map(({ id }) => id);
  const stocks = [...new Set(rows.flatMap(({ grams }) => Object.keys(grams)))].filter(
    (id) => !ids.includes(id),
  );
  const settings = brief.settings.map(({ id }) => id);
  return csvText(
    ['mix', 'blend', 'round', ...ids, ...stocks.sort(), ...settings],
    rows.map(({ mix, blend, round, planned, grams }) => [
      ...[mix, blend, round],
      ...[...ids, ...stocks].map((id) => grams[id] ?? 0),
      ...settings.map((id) => planned.settings[id] ?? null),
    ]),
  );
}

function scoresCsv(store: Store, trial: string, brief: Brief): string {
  const attributes = brief.attributes.map(({ id }) => id);
  const beside = brief.asides.map(({ id }) => id);
  const { servings, asides } = gather(store, trial, brief);
  const key = (
    question: string,
    { mix, assessor, session, replicate }: Omit<(typeof asides)[number], 'value'>,
  ) => JSON.stringify([question, mix, assessor, session, replicate]);
  const said = new Map(asides.map((one) => [key(one.question, one), one.value]));
  const aged = differInAge(servings);
  return csvText(
    [
      ...['mix', 'assessor', 'session', 'replicate', 'position'],
      ...attributes,
      ...beside,
      ...(aged ? ['hours'] : []),
    ],
    servings.map((serving) => {
      const { mix, assessor, session, replicate, position, scores } = serving;
      return [
        ...[mix, assessor, session, replicate, position],
        ...scores,
        ...beside.map((question) => said.get(key(question, { question, ...serving })) ?? null),
        ...(aged ? [serving.hours ?? null] : []),
      ];
    }),
  );
}

/** Whether some mix was tasted at several ages, so that `--age hours` can tell something. */
function differInAge(servings: readonly Serving[]): boolean {
  const first = new Map<string, number>();
  return servings.some(({ mix, hours }) => {
    if (hours == null) return false;
    const known = first.get(mix) ?? hours;
    first.set(mix, known);
    return Math.abs(known - hours) > 1;
  });
}

function answersCsv(store: Store, trial: string): string {
  const head = ['session', 'assessor', 'position', 'code', 'mix', 'question', 'value', 'received', 'late'];
  const rows = store.sittings.list(trial).flatMap(({ sitting, label, key }) =>
    store.sittings.seats(trial, sitting).flatMap(({ assessor }) => {
      const seat = { trial, sitting, assessor };
      const cups = new Map(store.sittings.cupsOf(seat).map((cup) => [cup.code, cup]));
      return store.answers
        .messages(seat)
        .map((answer) => [label, ...answerCells(answer, cups.get(answer.code)!, key === 'opened')]);
    }),
  );
  return csvText(head, rows);
}

function answerCells(answer: AnswerRecord, { assessor, position, code, mix }: CupRecord, open: boolean) {
  const { question, value, received, late } = answer;
  return [assessor, position, code, open ? mix : null, question, value, received, late ? 'late' : null];
}
