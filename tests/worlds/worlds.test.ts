import { describe, expect, it } from 'vitest';
import { namedStream } from '../../trials/demo/named-stream.ts';
import { halfSpacesOf, hitAndRun } from './hit-and-run.ts';
import { makeWorld, type World } from './world.ts';
import { minimise, trueDistance } from './world-distance.ts';
import { panelAverage } from './world-panel.ts';

const worlds = Array.from({ length: 40 }, (_, i) => makeWorld(i + 1));
const mean = (list: readonly number[]) => list.reduce((a, b) => a + b, 0) / list.length;
const deviation = (list: readonly number[]) => Math.sqrt(mean(list.map((x) => (x - mean(list)) ** 2)));

describe('a world', () => {
  it('is the same at every call and another at another seed', () => {
    const [again, other] = [makeWorld(5), makeWorld(7)];
    const at = again.points[3]!;
    expect(again.space).toEqual(worlds[4]!.space);
    expect(again.truth(at.shares, at.settings)).toEqual(worlds[4]!.truth(at.shares, at.settings));
    expect(other.space).not.toEqual(again.space);
  });

  it('has 3 to 6 components, 4 to 8 attributes, and both families, bounds and doses among forty', () => {
    for (const { space, attributes } of worlds) {
      expect(space.components.length).toBeGreaterThanOrEqual(3);
      expect(space.components.length).toBeLessThanOrEqual(6);
      expect(attributes.length).toBeGreaterThanOrEqual(4);
      expect(attributes.length).toBeLessThanOrEqual(8);
    }
    const count = (holds: (world: World) => boolean) => worlds.filter(holds).length;
    expect(count(({ family }) => family === 'psychophysical')).toBe(20);
    expect(count(({ space }) => space.bounds.length > 0)).toBeGreaterThan(5);
    expect(count(({ space }) => space.settings.length > 0)).toBeGreaterThan(5);
  });

  it('keeps its points inside the region, with shares that sum to one', () => {
    for (const { space, points } of worlds) {
      const { rows, limits } = halfSpacesOf(space);
      for (const { shares } of points.slice(0, 100)) {
        expect(Math.abs(shares.reduce((a, b) => a + b, 0) - 1)).toBeLessThan(1e-9);
        rows.forEach((row, r) => {
          const value = row.reduce((sum, c, i) => sum + c * shares[i]!, 0);
          expect(value).toBeLessThanOrEqual(limits[r]! + 1e-9);
        });
      }
    }
  });

  it('has true scores on the scale that move over the region', () => {
    for (const { truth, points } of worlds) {
      const scores = points.slice(0, 300).map((p) => truth(p.shares, p.settings));
      scores[0]!.forEach((_, k) => {
        const column = scores.map((row) => row[k]!);
        expect(Math.min(...column)).toBeGreaterThanOrEqual(0);
        expect(Math.max(...column)).toBeLessThanOrEqual(100);
        expect(Math.max(...column) - Math.min(...column)).toBeGreaterThan(10);
      });
    }
  });

  it('has potencies that lie far apart', () => {
    const spreads = worlds.map(({ space }) => {
      const tops = space.components.map(({ high }) => high);
      return Math.max(...tops) / Math.min(...tops);
    });
    expect(Math.max(...spreads)).toBeGreaterThan(30);
  });

  it('can be met exactly in about 70 of 100, and clearly not in the others', () => {
    const attainable = Array.from(
      { length: 400 },
      (_, i) => namedStream(i + 1, 'attainable').uniform() < 0.7,
    );
    // one standard error is 2.3 in 100
    expect(Math.abs(mean(attainable.map(Number)) - 0.7)).toBeLessThan(0.07);
    for (const { attainable: met, bestDistance, distance, points } of worlds) {
      const least = Math.min(...points.map((p) => distance(p.shares, p.settings)));
      if (met) expect(least).toBeLessThan(0.01);
      else {
        expect(bestDistance).toBeGreaterThan(1);
        expect(least).toBeGreaterThanOrEqual(bestDistance - 1e-9);
      }
    }
  });

  it('finds the same best distance from other starts', () => {
    const stream = namedStream(1, 'again');
    for (const world of worlds.filter(({ attainable }) => !attainable).slice(0, 6)) {
      const halves = halfSpacesOf(world.space);
      const points = hitAndRun(halves, world.points[0]!.shares, 1500, stream).map((shares) => ({
        shares,
        settings: world.space.settings.map(({ low, high }) => low + (high - low) * stream.uniform()),
      }));
      const again = minimise(world.space, (p) => world.distance(p.shares, p.settings), points, stream);
      // two random searches of a smooth function: a twentieth of a point is well below what anybody tastes
      expect(Math.abs(again.value - world.bestDistance)).toBeLessThan(0.15);
    }
  });

  it('pours a reference that is judged for tasters at large', () => {
    const world = makeWorld(2, { reference: true });
    expect(world.reference).not.toBeNull();
    expect(world.attributes.some(({ target }) => target?.kind === 'reference')).toBe(true);
    const cups = world.taste([], { session: 's', seed: 1 });
    expect(cups.map(({ mix }) => mix)).toEqual(Array(6).fill('reference'));
    const at = world.points[0]!;
    expect(world.distanceAtLarge(at.shares, at.settings)).toBeGreaterThanOrEqual(0);
    expect(makeWorld(2).distanceAtLarge(at.shares, at.settings)).toBeNull();
  });
});

describe('a distance', () => {
  it('is the weighted root mean square miss in percent of the scale, by hand', () => {
    const attributes = [
      { id: 'a', scale: [0, 10], target: { kind: 'value', value: 4 }, tolerance: 1, weight: 1 },
      { id: 'b', scale: [0, 100], target: { kind: 'range', low: 20, high: 30 }, tolerance: 8, weight: 3 },
      { id: 'c', scale: [0, 100], target: null, tolerance: 8, weight: 9 },
    ] as const;
    const aim = { attributes, reference: null, reach: [] };
    // misses 10, 6 and none: root of (1·100 + 3·36) / 4
    expect(trueDistance(aim, [5, 36, 80])).toBeCloseTo(Math.sqrt(208 / 4), 12);
  });
});

describe('a world’s panel', () => {
  const world = worlds[1]!;
  const at = world.points[10]!;
  const poured = (mix: string) => ({ mix, shares: at.shares, settings: at.settings });

  it('averages to what its assessors habitually give', () => {
    const truth = world.truth(at.shares, at.settings);
    const expected = panelAverage(world.panel, truth);
    const found = truth.map(() => [] as number[]);
    for (let s = 1; s <= 300; s++) {
      // fresh names, so that reactions to a mix and moods of a session average out too
      const mixes = ['a', 'b', 'c'].map((name) => poured(`${name}${s}`));
      for (const { scores, position } of world.taste(mixes, { session: `s${s}`, seed: s }))
        if (position !== 1)
          scores.forEach((score, k) => {
            if (score !== null) found[k]!.push(score);
          });
    }
    expected.forEach((value, k) => {
      const carry = world.panel.carryOver[k]! * (truth[k]! - world.panel.pivots[k]!);
      // 300 sessions of deviation 3 leave a standard error of 0.2; clipping at the ends moves a little more
      expect(Math.abs(mean(found[k]!) - (value - carry))).toBeLessThan(1.2);
    });
  });

  it('serves every cup in every place about equally often', () => {
    const cups = world.taste(['a', 'b', 'c', 'd'].map(poured), { session: 's', seed: 9 });
    expect(cups).toHaveLength(24);
    for (const mix of ['a', 'b', 'c', 'd'])
      for (const place of [1, 2, 3, 4]) {
        const servings = cups.filter((cup) => cup.mix === mix && cup.position === place).length;
        expect(servings).toBeGreaterThanOrEqual(1);
        expect(servings).toBeLessThanOrEqual(2);
      }
  });

  it('keeps an assessor’s reaction to a mix between sessions, and draws another for another mix', () => {
    const shift = (mix: string) => {
      const scores: number[] = [];
      for (let s = 1; s <= 200; s++)
        for (const cup of world.taste([poured(mix)], { session: `s${s}`, seed: s }))
          if (cup.assessor === 'P1' && cup.scores[0] !== null) scores.push(cup.scores[0]!);
      return mean(scores);
    };
    const [once, other] = [shift('a'), shift('b')];
    const reactions = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'].map(shift);
    expect(once).toBe(shift('a'));
    expect(Math.abs(once - other)).toBeGreaterThan(0.01);
    // eight draws of deviation 4 and a standard error of one each: well off both nought and twelve
    expect(deviation(reactions)).toBeGreaterThan(1.5);
    expect(deviation(reactions)).toBeLessThan(9);
  });

  it('gives whole scores on the scale, a few missing', () => {
    let missing = 0;
    let answers = 0;
    for (const { taste, points } of worlds) {
      const mixes = points.slice(0, 4).map((p, i) => ({ mix: `m${i}`, ...p }));
      for (const { scores } of taste(mixes, { session: 's', seed: 3 }))
        for (const score of scores) {
          answers++;
          if (score === null) missing++;
          else expect(Number.isInteger(score) && score >= 0 && score <= 100).toBe(true);
        }
    }
    expect(Math.abs(missing / answers - 0.02)).toBeLessThan(0.008);
  });

  it('weighs within a few steps of the plan and shows whole steps', () => {
    const planned = [1.5, 2, 0.5];
    const slips: number[] = [];
    for (let i = 0; i < 200; i++) {
      const { real, shown } = world.weigh(planned, `m${i}`);
      shown.forEach((grams, c) => {
        expect(Math.abs(grams * 100 - Math.round(grams * 100))).toBeLessThan(1e-9);
        slips.push(grams - real[c]!);
      });
    }
    // readability over the root of six, and rounding to whole steps besides
    expect(deviation(slips)).toBeGreaterThan(0.003);
    expect(deviation(slips)).toBeLessThan(0.007);
    expect(world.weigh(planned, 'm1')).toEqual(world.weigh(planned, 'm1'));
  });
});
