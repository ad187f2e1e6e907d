import { describe, expect, test } from 'vitest';
import { ballotView } from '../../../trials/rounds/ballot-view.ts';
import { partsOf } from '../../../trials/rounds/cup-parts.ts';
import { drawSitting } from '../../../trials/rounds/draw-sitting.ts';
import { readClaim } from '../../../trials/rounds/read-claim.ts';
import { readTest } from '../../../trials/rounds/read-test.ts';
import { openKey, openSitting } from '../../../trials/rounds/sitting-life.ts';
import { startProof } from '../../../trials/rounds/start-proof.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { weighMix } from '../../../trials/rounds/weigh-mix.ts';
import { Claim, ProofRequest, SittingRequest } from '../../../trials/schema/api.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { smallMixes, weighedTrial } from '../../support/small-trial.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);

/** So many tasters with one answer each. */
const once = (right: number, wrong: number) =>
  Array.from({ length: right + wrong }, (_, i) => ({
    assessor: `T${i}`,
    trials: 1,
    correct: i < right ? 1 : 0,
  }));

describe('that two drinks are close enough', () => {
  const claim = Claim.parse({ kind: 'alike' });

  // Exact binomial with SciPy: share at the limit 1/3 + 2/3 · 0.3; of 36 at most 13, of 60 at most 25; 46 and more hold a power of 0.8.
  test.each([
    [13, 36, true],
    [14, 36, false],
    [25, 60, true],
    [26, 60, false],
  ])('with %i of %i right in the triangle is shown: %s', (right, trials, shown) => {
    const found = readClaim(claim, 'triangle', once(right, trials - right));
    expect(found).toMatchObject({ kind: 'alike', shown, bound: trials === 36 ? 13 : 25 });
  });

  test('is never taken from a failed difference test: six tasters show nothing, and it is said how many would', () => {
    const found = readClaim(claim, 'triangle', once(2, 4));
    expect(found).toMatchObject({ shown: false, wouldTake: 46 });
    expect(found.says).toMatch(/not shown that fewer than 30 %|no result can show/);
    expect(found.says).toMatch(/It would take 46 answers, each of another taster/);
  });

  test('says of whom it speaks where each gave several answers', () => {
    const found = readClaim(claim, 'triangle', [
      { assessor: 'A', trials: 20, correct: 7 },
      { assessor: 'B', trials: 20, correct: 7 },
    ]);
    expect(found.shown).toBe(true);
    expect(found.says).toMatch(/speaks of these 2, not of people in general/);
  });
});

describe('that one beats the other', () => {
  // Two-sided binomial with SciPy: 15 of 20; at 70 in 100, 54 answers hold a power of 0.8.
  test.each([
    [15, 5, true],
    [14, 6, false],
    [5, 15, false],
  ])('with %i against %i is shown: %s', (first, second, shown) => {
    const found = readClaim(Claim.parse({ kind: 'preferred' }), 'two-afc', once(first, second));
    expect(found).toMatchObject({ shown, bound: 15, wouldTake: 54 });
    expect(found.says).toMatch(/The first is the new one/);
  });

  test('by a difference is shown where enough are right', () => {
    // 13 of 24 in the triangle at 0.05 (the table of ISO 4120).
    const claim = Claim.parse({ kind: 'different' });
    expect(readClaim(claim, 'triangle', once(13, 11))).toMatchObject({ shown: true, bound: 13 });
    expect(readClaim(claim, 'triangle', once(12, 12)).shown).toBe(false);
  });
});

describe('a proof', () => {
  const proposals = (trial: string) => {
    const [{ planned }] = smallMixes() as [ReturnType<typeof smallMixes>[number]];
    store.readings.add(trial, {
      reading: 'next-1',
      kind: 'next',
      round: 1,
      at: '2026-03-10T12:00:00.000Z',
      seed: 1,
      version: '1',
      input: {},
      result: { best: { ...planned, predicted: {}, chance: 0.7, distance: 2 } },
    });
    return ProofRequest.parse({ reading: 'next-1' });
  };

  test('is a round like any other: weighed afresh, poured under a claim, read by it, and blind to the end', () => {
    const trial = weighedTrial(context);
    const asked = proposals(trial);
    const { round, mixes } = startProof(context, trial, { ...asked, against: 'qb2' });
    expect(mixes.map(({ mix, again, weighed }) => [mix, again, weighed === null])).toEqual([
      ['proof', false, true],
      ['qb2', true, false],
    ]);
    weighMix(
      context,
      { trial, round, mix: 'proof' },
      { grams: { peelOil: 2, limeOil: 1, woodOil: 1 }, note: '' },
    );
    const request = SittingRequest.parse({
      label: 'Friday',
      assessors: ['Ann', 'Bob', 'Cleo'],
      mixes: ['proof', 'qb2'],
      reference: false,
      test: { form: 'triangle', claim: { kind: 'alike', limit: 0.4 } },
    });
    const { sitting } = drawSitting(context, { trial, round }, request);
    const place = { trial, sitting };
    openSitting(context, place);
    for (const assessor of request.assessors) {
      const seat = { ...place, assessor };
      const ballot = JSON.stringify(ballotView(store, seat, []));
      expect(ballot).not.toMatch(/proof|alike|claim|limit|qb2/i);
      const [set] = partsOf(store.sittings.cupsOf(seat));
      const value = Number(set!.cups[0]!.code);
      const message = {
        id: messageId([trial, assessor]),
        code: set!.cups[0]!.code,
        question: 'choice',
        value,
      };
      takeAnswers(context, seat, [{ ...message, phone: messageId(['phone']), count: 1 }]);
    }
    expect(refusalOf(() => readTest(store, place)).message).toMatch(/sealed/);
    openKey(context, place, 'all in');
    const { claim, trials } = readTest(store, place);
    expect(trials).toBe(3);
    expect(claim).toMatchObject({ kind: 'alike', shown: false });
    expect(claim!.says).toMatch(/It would take \d+ answers/);
    expect(startProof(context, trial, asked).mixes.map(({ mix }) => mix)).toEqual(['proof2']);
  });

  test('of what is not there, or in a form that cannot show it, is refused', () => {
    const trial = weighedTrial(context);
    const asked = proposals(trial);
    const refused = (given: object) =>
      refusalOf(() => startProof(context, trial, { ...asked, ...given })).message;
    expect(refused({ reading: 'next-9' })).toMatch(/is not there/);
    expect(refused({ against: 'gin' })).toMatch(/against: found "?gin"?, allowed an earlier mix/);
    expect(store.rounds.list(trial)).toHaveLength(1);
    const request = SittingRequest.parse({
      label: 'P',
      assessors: ['Ann'],
      mixes: ['qa1'],
      test: { form: 'triangle', claim: { kind: 'preferred' } },
    });
    expect(refusalOf(() => drawSitting(context, { trial, round: 1 }, request)).message).toMatch(/two-afc/);
  });
});
