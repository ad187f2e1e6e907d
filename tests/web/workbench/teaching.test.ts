import { describe, expect, it } from 'vitest';
import { demoBrief } from '../../../trials/demo/demo-round-one.ts';
import { hiddenDrink, tastePair } from '../../../trials/teaching/hidden-drink.ts';
import { MIXTURE_LESSONS, WINE } from '../../../trials/teaching/published.ts';
import { gapsOf, gapWords, outcomeOf } from '../../../web/workbench/teaching/guess.ts';
import { readLesson, readWine } from '../../../web/workbench/teaching/lesson-reading.ts';
import {
  drawBlindTrays,
  inventedScores,
  readOpenBlind,
  scoreKey,
} from '../../../web/workbench/teaching/open-blind.ts';

const NUMBERS = Array.from({ length: 40 }, (_, k) => k + 1);

describe('data with known answers', () => {
  it.each(MIXTURE_LESSONS.map((lesson) => [lesson.id, lesson] as const))(
    '%s: reads what the source says',
    (_, lesson) => {
      const { fit } = readLesson(lesson);
      expect(fit.coefficients.map(({ term }) => term)).toEqual(Object.keys(lesson.answer.coefficients));
      // The handbook prints one decimal, the other values have six.
      for (const { term, estimate } of fit.coefficients)
        expect(Math.abs(estimate - lesson.answer.coefficients[term]!)).toBeLessThan(5e-7);
    },
  );

  it('sweet: finds the blend that the answer names, to the grid of whole percents', () => {
    const { best } = readLesson(MIXTURE_LESSONS.find(({ id }) => id === 'sweet')!);
    expect(best.shares).toEqual([0.46, 0.36, 0.18]);
    expect(best.value).toBeCloseTo(15.67, 2);
  });

  it('wine: agrees with the printed values as far as one point of quadrature agrees with fifteen', () => {
    const { status, coefficients } = readWine();
    expect(status).toBe('estimated');
    const [warm, skins] = coefficients.map(({ estimate }) => estimate);
    expect(Math.abs(warm! - WINE.answer.warm)).toBeLessThan(0.05);
    expect(Math.abs(skins! - WINE.answer.skins)).toBeLessThan(0.05);
  });
});

describe('the hidden drink', () => {
  it('is weighable, within the brief, the same for its number and another for the next', () => {
    const { components, batch } = demoBrief();
    for (const number of NUMBERS) {
      const grams = hiddenDrink(number);
      const total = grams.reduce((a, b) => a + b, 0);
      expect(total).toBeCloseTo(batch.grams, 9);
      components.forEach(({ low, high }, k) => {
        expect(grams[k]! / total).toBeGreaterThan(low);
        expect(grams[k]! / total).toBeLessThan(high);
      });
      expect(hiddenDrink(number)).toEqual(grams);
    }
    expect(new Set(NUMBERS.map((number) => hiddenDrink(number).join())).size).toBe(NUMBERS.length);
  });

  it('is tasted by six, the same for the same turn, and found by who mixes it', () => {
    const grams = hiddenDrink(3);
    const once = tastePair(3, 1, grams);
    expect(once.map(({ taster }) => taster)).toEqual(['P1', 'P2', 'P3', 'P4', 'P5', 'P6']);
    expect(tastePair(3, 1, grams)).toEqual(once);
    expect(tastePair(3, 2, grams)).not.toEqual(once);
    expect(outcomeOf(3, grams)).toMatchObject({ points: 0, parts: 0 });
  });

  it('shows the side that a mix errs to: far more than half of its quassia tastes bitter', () => {
    const attributes = demoBrief().attributes;
    const more = hiddenDrink(3);
    more[4]! += 2;
    const turns = Array.from({ length: 10 }, (_, turn) => gapsOf(tastePair(3, turn + 1, more), attributes));
    const bitter = turns.map((gaps) => gaps.find(({ id }) => id === 'bitter')!);
    expect(bitter.every(({ gap }) => gap.mean! > 0)).toBe(true);
    expect(bitter.filter((one) => gapWords(one) === 'too much').length).toBeGreaterThan(5);
    expect(outcomeOf(3, more).points).toBeGreaterThan(5);
  });
});

describe('openly and blind', () => {
  it('draws no code twice and lets half begin with either drink', () => {
    const tasters = ['a', 'b', 'c', 'd', 'e', 'f'];
    for (const seed of NUMBERS) {
      const trays = drawBlindTrays(tasters, seed);
      const codes = trays.flatMap(({ cups }) => cups.map(({ code }) => code));
      expect(new Set(codes).size).toBe(12);
      expect(trays.filter(({ cups }) => cups[0]!.drink === 'first')).toHaveLength(3);
    }
  });

  it('reads the gap of each way and what knowing added, taster by taster', () => {
    const trays = drawBlindTrays(['a', 'b', 'c'], 5);
    const typed = Object.fromEntries(
      trays.flatMap(({ taster, cups }, k) => [
        ...cups.map(({ code, drink }) => [scoreKey(taster, code), drink === 'first' ? 50 + k : 50]),
        [scoreKey(taster, 'first'), 70],
        [scoreKey(taster, 'second'), 60],
      ]),
    );
    const { blind, open, knowing } = readOpenBlind(trays, typed);
    expect([blind.mean, open.mean, knowing.mean]).toEqual([1, 10, 9]);
    expect(open.interval).toEqual([10, 10]);
  });

  it('fills in invented scores that stay on the scale', () => {
    const trays = drawBlindTrays(['a', 'b'], 5);
    const scores = Object.values(inventedScores(trays, 5));
    expect(scores).toHaveLength(8);
    expect(scores.every((score) => score >= 0 && score <= 100)).toBe(true);
  });
});
