import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { dropwise, Folder } from '../support/command-line.ts';
import { TINY_BRIEF, TINY_SCORES } from '../support/tiny-trial.ts';

let folder: Folder;
beforeAll(() => {
  folder = new Folder();
});
afterAll(() => {
  folder.remove();
});

const stored = (file: string) => JSON.parse(readFileSync(`tests/reference/${file}`, 'utf8'));

async function json(...args: string[]) {
  const { status, out, err } = await dropwise(...args, '--json');
  expect(status, err).toBe(0);
  return JSON.parse(out);
}

const csv = (head: string, rows: readonly (readonly unknown[])[]) =>
  `${[head, ...rows.map((row) => row.join(','))].join('\n')}\n`;

const near = (found: number, expected: number, relative: number) =>
  expect(Math.abs(found - expected), `${found} beside ${expected}`).toBeLessThanOrEqual(
    relative * Math.max(Math.abs(expected), 1e-12),
  );

function briefWith(attributes: unknown[], asides: unknown[] = []): string {
  return folder.write('brief.json', { ...TINY_BRIEF, attributes, asides });
}

test('categories are read as steps: the wine of Randall (1989) against the package ordinal', async () => {
  const wine = stored('ordinal/steps.json');
  const words = ['1', '2', '3', '4', '5'];
  const brief = briefWith([{ id: 'bitter', scale: [1, 5], form: 'categories', words }]);
  const rows = wine.rows.map((r: { judge: number; bottle: number; rating: number }) => [
    `bottle ${r.bottle}`,
    `P${r.judge}`,
    r.rating,
  ]);
  const scores = folder.write('wine.csv', csv('mix,assessor,bitter', rows));
  const { steps } = (await json('panel', scores, '--brief', brief)).attributes[0];
  expect(steps.steps).toEqual([1, 2, 3, 4, 5]);
  near(steps.mixTest.chiSquare, wine.chiSquare, 1e-6);
  near(steps.mixTest.p, wine.p, 1e-5);
  near(steps.assessorVariance, wine.variance, 1e-3);
  wine.places.forEach((place: number, b: number) => {
    expect(Math.abs(steps.mixes[b].place - place)).toBeLessThan(1e-4);
    near(steps.mixes[b].standardError, wine.errors[b], 1e-3);
    const { shares } = steps.mixes[b];
    expect(shares.reduce((sum: number, v: number) => sum + v, 0)).toBeCloseTo(1, 8);
  });
  const { out } = await dropwise('panel', scores, '--brief', brief);
  expect(out).toContain('Read as steps: mixes differ: chi-square(7)');
});

test('just about right with penalties: the worked example after ASTM MNL 63, liking beside it', async () => {
  const { data, result } = stored('choices/jar_penalty.json');
  const sides = [2, 3, 4];
  // likings of each group around its mean, whole and on the scale
  const rows = data.flatMap(({ n, mean }: { n: number; mean: number }, g: number) => {
    const high = Math.round(n * (mean - Math.floor(mean)));
    return Array.from({ length: n }, (_, i) => [sides[g], Math.floor(mean) + Number(i < high)]);
  });
  const brief = briefWith([
    { id: 'sweet', scale: [1, 5], form: 'just-about-right' },
    { id: 'liking', scale: [1, 9], form: 'liking' },
  ]);
  const cells = rows.map(([side, liking]: [number, number], i: number) => ['m1', `P${i + 1}`, side, liking]);
  const scores = folder.write('right.csv', csv('mix,assessor,sweet,liking', cells));
  const { attributes, liking } = await json('panel', scores, '--brief', brief);
  const { right } = attributes[0];
  expect(right.mixes[0]).toMatchObject({ tooLittle: 36, right: 78, tooMuch: 6 });
  for (const penalty of [right.overall, right.mixes[0].penalty]) {
    near(penalty.mean, result.overall_mean, 1e-3); // whole likings come to the means as near as 78 answers can
    expect(penalty.tooWeak.share).toBeCloseTo(result.too_weak.share, 12);
    expect(penalty.tooWeak.drop).toBeCloseTo(result.too_weak.mean_drop, 1);
    expect(penalty.tooStrong.counts).toBe(result.too_strong.counts);
  }
  expect(right.mixes[0].says).toMatch(
    /78 of 120 find it just about right, 36 too little \(they like it 1\.\d less\)/,
  );
  expect(liking.of).toBe('liking');
  expect(liking.with[0]).toMatchObject({ id: 'sweet', correlation: null, mixes: 1 });
  const { out } = await dropwise('panel', scores, '--brief', brief);
  expect(out).toContain('Over all mixes, too little: 30 % of answers');
});

test('orders: ties of Hollander and Wolfe (1973), and Page with its exact p', async () => {
  const [, rounding, , doses] = stored('ranking/ranking-tests.json').cases;
  const rowsOf = (table: number[][]) =>
    table.flatMap((row, t) => row.map((place, m) => [`P${t + 1}`, `m${m + 1}`, Math.round(2 * place)]));
  const ranks = folder.write('ranks.csv', csv('assessor,mix,place', rowsOf(rounding.ranks)));
  const found = await json('aside', 'ranks', ranks);
  near(found.test.statistic, rounding.F_tie_corrected, 1e-7);
  near(found.test.p, rounding.p, 1e-9);
  expect(found.mixes.map(({ mix, rankSum }: { mix: string; rankSum: number }) => [mix, rankSum])).toEqual([
    ['m1', 53],
    ['m2', 47],
    ['m3', 32],
  ]);
  const rising = folder.write('doses.csv', csv('assessor,mix,place', rowsOf(doses.ranks ?? doses.scores)));
  const page = (await json('aside', 'ranks', rising, '--rising', 'm1,m2,m3,m4')).rising;
  expect(page.statistic).toBe(doses.L);
  near(page.z, doses.z, 1e-6);
  near(page.p, doses.p_one_sided, 1e-6);
  expect(page.pExact).toBeLessThan(1e-4);
  expect(page.says).toBe('Places rise in the expected order.');
});

test('orders of different cups: Durbin and Prentice, by R from their formulas', async () => {
  const { balanced, uneven } = stored('ranking/incomplete.json');
  for (const { blocks, statistic, df, p } of [balanced, uneven]) {
    const rows = blocks.flatMap(([items, places]: [number[], number[]], t: number) =>
      items.map((item, i) => [`P${t + 1}`, `m${item}`, Math.round(2 * places[i]!)]),
    );
    const ranks = folder.write('some.csv', csv('assessor,mix,place', rows));
    const { test: found, warnings } = await json('aside', 'ranks', ranks);
    near(found.statistic, statistic, 1e-10);
    expect(found.df).toBe(df);
    near(found.p, p, 1e-10);
    expect(warnings[0]).toContain('not every ballot ranked the same cups');
  }
});

test('pairs: Springall (1973) against BradleyTerry2', async () => {
  const { contests, abilities_vs_treatment_1, residual_deviance, residual_df } = stored(
    'choices/paired_comparison_springall.json',
  );
  const rows = contests.map((c: Record<string, unknown>) => [
    `t${c['row']}`,
    `t${c['col']}`,
    c['row_stronger'],
    c['col_stronger'],
    c['tie'],
  ]);
  const pairs = folder.write('pairs.csv', csv('first,second,firstChosen,secondChosen,neither', rows));
  const found = await json('aside', 'pairs', pairs);
  near(found.lackOfFit.deviance, residual_deviance, 1e-7);
  expect(found.lackOfFit.df).toBe(residual_df);
  const strength = new Map(
    found.mixes.map(({ mix, strength: s }: { mix: string; strength: number }) => [mix, s]),
  ) as Map<string, number>;
  abilities_vs_treatment_1.logit.forEach((ability: number, t: number) => {
    expect(strength.get(`t${t + 1}`)! - strength.get('t1')!).toBeCloseTo(ability, 6);
  });
  const first = found.differences.find((d: { a: string; b: string }) => d.a === 't1' && d.b === 't3');
  near(first.standardError, abilities_vs_treatment_1.se[2], 1e-6);
  expect(first.pAllPairs).toBeGreaterThan(first.p);
  expect((await dropwise('aside', 'pairs', pairs)).out).toContain('The choices tell');
});

test("words: the worked example of Cochran's Q", async () => {
  const { matrix, Q, p, column_totals } = stored('choices/cochran_q_cata.json');
  const rows = matrix.flatMap((row: number[], t: number) =>
    row.map((v, m) => [`P${t + 1}`, `m${m + 1}`, v === 1 ? '"Soap, thin"' : 'thin']),
  );
  const words = folder.write('words.csv', csv('assessor,mix,words', rows));
  const found = await json('aside', 'words', words, '--offered', 'soap,never');
  expect(found.words.map(({ word }: { word: string }) => word)).toEqual(['soap', 'never', 'thin']);
  expect(found.words[0].counts).toEqual(column_totals);
  near(found.words[0].q, Q, 1e-6);
  near(found.words[0].p, p, 1e-6);
  expect(found.words[2]).toMatchObject({ p: null, reason: expect.stringContaining('alike') });
});

test('picks: chi-square and the exact p, by SciPy', async () => {
  const picks = folder.write(
    'picks.csv',
    csv('mix,count', [
      ['a', 12],
      ['b', 4],
      ['c', 3],
    ]),
  );
  const found = await json('aside', 'picks', picks);
  // scipy.stats.chisquare([12, 4, 3]); the exact p counted out in Python
  near(found.statistic, 7.684210526315789, 1e-12);
  near(found.p, 0.02144839925588929, 1e-10);
  near(found.pExact, 0.02626069422982946, 1e-10);
  expect(found.says).toBe('The picks are not even: a was picked most often.');
  expect(found.mixes[0].share).toBeCloseTo(12 / 19, 12);
});

test('scores.csv with a brief that asks beside the scales: orders and words come with the panel', async () => {
  const brief = briefWith(
    [{ id: 'bitter', scale: [0, 100] }],
    [
      { id: 'order', form: 'ranking' },
      { id: 'notes', form: 'describe', words: ['soap'] },
    ],
  );
  const rows = [1, 2, 3, 4, 5].flatMap((t) =>
    ['m1', 'm2', 'm3'].map((mix, m) => [mix, `P${t}`, 20 + 10 * m + t, m + 1, m === 0 ? 'soap' : 'pith']),
  );
  const scores = folder.write('beside.csv', csv('mix,assessor,bitter,order,notes', rows));
  const { asides, warnings } = await json('panel', scores, '--brief', brief);
  expect(warnings).toEqual([]);
  expect(asides[0]).toMatchObject({ id: 'order', form: 'ranking', orders: 5, concordance: 1 });
  expect(asides[0].says).toBe('The tasters agree on an order: m3 has the most, m1 the least.');
  expect(asides[1].words[0]).toMatchObject({ word: 'soap', counts: [5, 0, 0] });
  const without = await json('panel', scores, '--brief', brief, '--set-aside', 'P1,P2');
  expect(without.asides[0].orders).toBe(3);
  expect((await dropwise('panel', scores, '--brief', brief)).out).toContain('order: The tasters agree');
  const off = folder.write('off.csv', csv('mix,assessor,bitter,order', [['m1', 'P1', 3, 1.5]]));
  const refused = await dropwise('panel', off, '--brief', brief);
  expect(refused).toMatchObject({ status: 1, out: '' });
  expect(refused.err).toContain('line 2, column order: found "1.5", allowed a place in the order, 1 = least');
});

test('the map is drawn on request, the same for the same seed', async () => {
  const brief = folder.write('brief.json', TINY_BRIEF);
  const scores = folder.write('tiny.csv', TINY_SCORES);
  const args = ['panel', scores, '--brief', brief, '--map', '--seed', '3'];
  const { map, seed } = await json(...args);
  expect(seed).toBe(3);
  expect(map.mixes.length).toBeGreaterThan(5);
  expect(map.map.regions).toHaveLength(map.mixes.length);
  expect(map.map.draws).toBe(500);
  expect((await json(...args)).map).toEqual(map);
  expect((await dropwise(...args)).out).toMatch(/On the map \d+ of \d+ pairs of mixes lie apart/);
  expect((await json('panel', scores)).map).toBeUndefined();
});

test('what is wrong is named by file, line and column', async () => {
  const refusals = [
    ['ranks', 'assessor,mix,place\nP1,a,0\n', 'line 2, column place: found "0", allowed a place'],
    [
      'ranks',
      'assessor,mix,place\nP1,a,1\nP1,a,2\n',
      'line 3, column mix: found "P1, a", allowed once (line 2',
    ],
    ['ranks', 'assessor,mix\nP1,a\n', 'line 1, column place: found no such column'],
    ['pairs', 'first,second,firstChosen,secondChosen\na,a,1,2\n', 'allowed another mix than the first'],
    ['picks', 'mix,count\na,3\n', 'allowed whole numbers of 0 or more for at least 2 mixes'],
    ['picks', 'mix,count\na,-3\nb,1\n', 'line 2, column count: found "-3"'],
    ['words', 'assessor,mix,words\n', 'found no rows'],
  ] as const;
  for (const [kind, text, says] of refusals) {
    const { status, out, err } = await dropwise('aside', kind, folder.write('wrong.csv', text));
    expect({ status, out }, kind).toEqual({ status: 1, out: '' });
    expect(err).toContain(says);
  }
  const ranks = folder.write('three.csv', 'assessor,mix,place\nP1,a,1\nP1,b,2\n');
  const stranger = await dropwise('aside', 'ranks', ranks, '--rising', 'a,x');
  expect(stranger.err).toContain('--rising');
  expect(stranger.status).toBe(1);
  expect((await dropwise('aside', 'stacks', ranks)).status).toBe(2);
});

test('what cannot tell has a reason', async () => {
  const write = (text: string) => folder.write('dull.csv', text);
  const alike = await json('aside', 'ranks', write('assessor,mix,place\nP1,a,1\nP1,b,1\nP2,a,2\nP2,b,2\n'));
  expect(alike).toMatchObject({ status: 'not-estimable', test: { p: null } });
  const one = await json('aside', 'ranks', write('assessor,mix,place\nP1,a,1\n'));
  expect(one.reason).toBe('fewer than two mixes were ranked');
  const never = await json(
    'aside',
    'pairs',
    write('first,second,firstChosen,secondChosen\na,b,3,0\nb,c,2,2\n'),
  );
  expect(never).toMatchObject({ status: 'not-estimable', mixes: [] });
  const nobody = await json('aside', 'picks', write('mix,count\na,0\nb,0\n'));
  expect(nobody).toMatchObject({ p: null, says: 'Nobody picked any: nothing can be said.' });
  const brief = briefWith([{ id: 'bitter', scale: [1, 3], form: 'categories', words: ['a', 'b', 'c'] }]);
  const same = await json('panel', write('mix,assessor,bitter\nx,P1,2\ny,P1,2\n'), '--brief', brief);
  expect(same.attributes[0].steps).toMatchObject({ status: 'not-estimable', mixTest: { p: null } });
});
