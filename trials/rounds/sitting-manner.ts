import type { SittingRequest } from '../schema/api.ts';
import type { Brief } from '../schema/brief.ts';
import type { Manner, Question } from '../store/records.ts';
import { pouredMixes } from './draw-trays.ts';
import { badInput } from './refusal.ts';

/** The one question of a difference test; its answers are codes. */
export const CHOICE = 'choice';

/** Seconds between two cups; lingering tastes need more. Common practice, no published source. */
export function usualRest({ panel }: Pick<Brief, 'panel'>): number {
  return panel.lingers ? 120 : 60;
}

/** What each cup, or each set of a difference test, is asked. */
export function questionsOf(brief: Brief, { test }: SittingRequest): Question[] {
  if (test !== undefined)
    return [{ id: CHOICE, name: test.of, scale: [100, 999], form: test.form, words: [] }];
  const scales = brief.attributes.map(({ id, name, scale, form, words }) => ({
    id,
    name,
    scale,
    form,
    words,
  }));
  const asides = brief.asides.map(({ id, name, form, words }) => {
    const scale: Question['scale'] = [0, 1];
    return { id, name, scale, form, words };
  });
  return [...scales, ...asides];
}

/** How the sitting is held, as it is stored. */
export function mannerOf(request: SittingRequest): Manner {
  const { goBack, test, alone, replicates } = request;
  const hidden = Array.from({ length: replicates }, () => pouredMixes(request)).flat();
  return {
    ...(goBack ? { goBack } : {}),
    ...(test ? { test: testOf(test) } : {}),
    ...(alone ? { hidden } : {}),
  };
}

function testOf({ form, of, stronger, claim }: NonNullable<SittingRequest['test']>) {
  return { form, of, stronger: stronger ?? null, ...(claim ? { claim } : {}) };
}

/** A difference test is between two drinks; forced choice needs to know which should be the stronger. */
export function refuseBadTest(request: SittingRequest): void {
  const { test, alone, warmup } = request;
  if (test === undefined) return;
  const pair = pouredMixes(request);
  if (pair.length !== 2)
    throw badInput('mixes', pair.length, 'two drinks to tell apart, the reference counted');
  if (alone)
    throw badInput('alone', true, 'somebody else who pours: sets of a difference test are served in order');
  if (warmup) throw badInput('warmup', true, 'no warm-up in a difference test');
  const { claim } = test;
  if (claim?.kind === 'preferred' && test.form !== 'two-afc')
    throw badInput('test.form', test.form, 'two cups, one of which is chosen (two-afc), for a preference');
  const forced = test.form === 'two-afc' || test.form === 'three-afc';
  if (forced && (test.stronger === undefined || !pair.includes(test.stronger)))
    throw badInput('test.stronger', test.stronger ?? 'nothing', `one of ${pair.join(', ')}`);
  if (forced && test.of.trim() === '')
    throw badInput('test.of', test.of, 'what the stronger one has more of');
}
