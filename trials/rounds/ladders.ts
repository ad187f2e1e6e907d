import type { z } from 'zod';
import type { LadderAnswers, LadderKept, LadderRequest, LadderTray, LadderView } from '../schema/api.ts';
import type { LadderRecord, LadderTrayRecord } from '../store/records.ts';
import { type Context, record, timeOf } from './context.ts';
import { drawLadderTrays } from './draw-ladder.ts';
import { findTrial } from './find.ts';
import { ladderView, ladderViews } from './ladder-view.ts';
import { badInput, conflict } from './refusal.ts';
import { drawSeed } from './tokens.ts';
import { counted } from './words.ts';

/** Draws the cups of a new ladder. Those before it stay as they are. */
export function drawLadder(
  context: Context,
  trial: string,
  { component, concentrations, tasters }: z.infer<typeof LadderRequest>,
): LadderView {
  const { store } = context;
  return store.write(() => {
    const { components } = findTrial(store, trial).latest.brief;
    if (!components.some(({ id }) => id === component))
      throw badInput('component', component, components.map(({ id }) => id).join(', '));
    const seed = drawSeed();
    const trays = drawLadderTrays(concentrations.length, tasters, seed);
    const ladder = addLadder(context, trial, { component, concentrations, seed }, trays);
    record(context, trial, 'drew a ladder of doses', toldOf(ladder, component, concentrations, tasters));
    return ladderView(store, trial, ladder);
  });
}

/**
 * A ladder whose cups were drawn and answered before ladders were part of the data. The same cups once more are the same
 * ladder: it stays as it stands, so that nothing is doubled and nothing newer is undone.
 */
export function takeOverLadder(context: Context, trial: string, kept: LadderKept): LadderView {
  const { store } = context;
  return store.write(() => {
    const cups = kept.trays.map(({ taster, threes }) => ({ assessor: taster, threes }));
    const known = ladderViews(store, trial).find(({ ladder }) =>
      isSame(store.ladders.trays(trial, ladder), cups),
    );
    if (known) return known;
    const { component, concentrations, trays } = kept;
    const ladder = addLadder(context, trial, { component, concentrations, seed: null }, cups);
    const at = timeOf(context);
    for (const { taster, named } of trays)
      named.forEach((code, k) => {
        if (code !== null)
          store.ladders.addAnswer(trial, ladder, { assessor: taster, rung: k + 1, code, at });
      });
    const tasters = trays.map(({ taster }) => taster);
    const answers = trays.flatMap(({ named }) => named).filter((code) => code !== null).length;
    const told = `${toldOf(ladder, component, concentrations, tasters)}; ${counted(answers, 'answer')}`;
    record(context, trial, 'took over a ladder of doses that a browser kept', told);
    return ladderView(store, trial, ladder);
  });
}

/** Notes which cups were called odd; what stood before stays on record. All of it is kept or nothing. */
export function answerLadder(
  context: Context,
  { trial, ladder }: { trial: string; ladder: number },
  { answers }: LadderAnswers,
): LadderView {
  const { store } = context;
  return store.write(() => {
    const before = ladderView(store, trial, ladder);
    if (before.away !== null) throw conflict(`ladder ${ladder} is put away: bring it back first`);
    const at = timeOf(context);
    answers.forEach(({ taster, rung, code }, index) => {
      const tray = before.trays.find((one) => one.taster === taster);
      if (!tray) throw badInput(`answers[${index}].taster`, taster, 'a taster of this ladder');
      const three = tray.threes[rung - 1];
      if (!three) throw badInput(`answers[${index}].rung`, rung, `1 to ${tray.threes.length}`);
      if (code !== null && !three.codes.includes(code))
        throw badInput(`answers[${index}].code`, code, `one of ${three.codes.join(', ')}`);
      store.ladders.addAnswer(trial, ladder, { assessor: taster, rung, code, at });
    });
    const after = ladderView(store, trial, ladder);
    recordAnswers(context, trial, before, after);
    return after;
  });
}

/** Puts a ladder away or brings it back. Nothing of it is ever deleted. */
export function putLadderAway(
  context: Context,
  { trial, ladder }: { trial: string; ladder: number },
  away: boolean,
): LadderView {
  const { store } = context;
  return store.write(() => {
    const before = ladderView(store, trial, ladder);
    if ((before.away !== null) === away) return before;
    store.ladders.setAway(trial, ladder, away ? timeOf(context) : null);
    record(
      context,
      trial,
      away ? 'put a ladder of doses away' : 'brought a ladder of doses back',
      `ladder ${ladder}`,
    );
    return ladderView(store, trial, ladder);
  });
}

function addLadder(
  context: Context,
  trial: string,
  drawn: Pick<LadderRecord, 'component' | 'concentrations' | 'seed'>,
  trays: readonly LadderTrayRecord[],
): number {
  const { store } = context;
  const ladder = (store.ladders.list(trial).at(-1)?.ladder ?? 0) + 1;
  store.ladders.add(trial, { ladder, at: timeOf(context), ...drawn, away: null }, trays);
  return ladder;
}

function isSame(a: readonly LadderTrayRecord[], b: readonly LadderTrayRecord[]): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

function toldOf(
  ladder: number,
  component: string,
  concentrations: readonly number[],
  tasters: readonly string[],
): string {
  const names = tasters.map((name) => JSON.stringify(name)).join(', ');
  return `ladder ${ladder}: ${component}, ${concentrations.join(', ')} mg a litre, for ${names}`;
}

/** One act a taster: rungs answered for the first time are counted, what was changed is told. */
function recordAnswers(context: Context, trial: string, before: LadderView, after: LadderView): void {
  for (const [t, { taster, named }] of after.trays.entries()) {
    const stood = before.trays[t]!.named;
    const changes = named.flatMap((code, k) => changeOf(k + 1, stood[k] ?? null, code));
    if (changes.length > 0) {
      const detail = `of ${JSON.stringify(taster)} on ladder ${after.ladder}: ${changes.join('; ')}`;
      record(context, trial, 'changed answers on a ladder of doses', detail);
    }
    if (isWhole(named) && !isWhole(stood))
      record(
        context,
        trial,
        'entered the answers on a ladder of doses',
        `of ${JSON.stringify(taster)} on ladder ${after.ladder}, ${counted(named.length, 'rung')}`,
      );
  }
  context.store.trials.touch(trial, timeOf(context));
}

function changeOf(rung: number, before: string | null, now: string | null): string[] {
  if (before === null || before === now) return [];
  return [now === null ? `rung ${rung}, ${before} taken back` : `rung ${rung}, ${now} instead of ${before}`];
}

function isWhole(named: LadderTray['named']): boolean {
  return named.every((code) => code !== null);
}
