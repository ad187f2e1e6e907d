import { describe, expect, test } from 'vitest';
import { makeRound } from '../../../trials/rounds/accept-round.ts';
import { createTrial } from '../../../trials/rounds/create-trial.ts';
import { pourSitting } from '../../../trials/rounds/draw-sitting.ts';
import { drawTrays } from '../../../trials/rounds/draw-trays.ts';
import { drawLadder } from '../../../trials/rounds/ladders.ts';
import { openKey, openSitting } from '../../../trials/rounds/sitting-life.ts';
import { weighMix } from '../../../trials/rounds/weigh-mix.ts';
import { ROUTES, type RouteName } from '../../../trials/schema/api.ts';
import type { Brief } from '../../../trials/schema/brief.ts';
import { sittingRequest, smallBrief, smallMixes } from '../../support/small-trial.ts';
import { contextOf } from '../../support/trial-folder.ts';
import { openWorkbench, pathOf } from '../../support/workbench.ts';

/** Headers that tell the time or an address of the test, not what is in a cup. */
const OF_THE_MOMENT = [
  'date',
  'etag',
  'ratelimit',
  'ratelimit-policy',
  'connection',
  'keep-alive',
  'transfer-encoding',
];

type Mixes = ReturnType<typeof smallMixes>;

/** What is kept from tasters: the brief's components, the mixes and their ratios, and which is in which cup. */
interface Secret {
  components: (components: Brief['components']) => Brief['components'];
  mixes: (mixes: Mixes) => Mixes;
  cups: (mixes: string[]) => string[];
  /** Rungs of a ladder of doses that has been drawn for a taster; none where empty. */
  ladder: number[];
}

const AS_IT_IS: Secret = { components: (all) => all, mixes: (all) => all, cups: (all) => all, ladder: [] };

/** A drink of which the workbench tells tasters by itself, once in the maker's own words and once in English. */
function tonicBrief(): Brief {
  const brief = smallBrief();
  const drink = { ...brief.drink!, name: 'tonic water', percentVol: 5 };
  return { ...brief, drink, cautionWords: { quinine: 'Kann Chinin enthalten: nicht für Schwangere.' } };
}

/**
 * All that one taster's browser receives in a sitting, from the first page to what it is refused, as one text; the
 * codes are the same whatever the secret.
 */
async function trafficOf(given: Partial<Secret> = {}): Promise<string> {
  const secret = { ...AS_IT_IS, ...given };
  const workbench = await openWorkbench({ demo: false });
  const { store } = workbench;
  const context = contextOf(store);
  const brief = tonicBrief();
  const components = secret.components(brief.components);
  const { trial } = createTrial(context, { ...brief, components }, { trial: 'fixed' });
  const laidOut = secret.mixes(smallMixes());
  makeRound(context, trial, { mixes: laidOut, reading: null, restHours: 24 });
  const concentrations = secret.ladder;
  if (concentrations.length > 0)
    drawLadder(context, trial, { component: components[0]!.id, concentrations, tasters: ['Ann', 'Zoe'] });
  for (const { mix, planned } of laidOut)
    weighMix(context, { trial, round: 1, mix }, { grams: planned.grams, note: '' });
  const request = sittingRequest();
  const trays = drawTrays(request, 5, []).map(({ assessor, cups }) => {
    const named = cups.map(({ mix }) => {
      const place = smallMixes().findIndex((one) => one.mix === mix);
      return laidOut[place]?.mix ?? mix;
    });
    const mixes = secret.cups(named);
    return { assessor, cups: cups.map((cup, i) => ({ ...cup, mix: mixes[i]! })) };
  });
  const poured = { ...request, mixes: laidOut.map(({ mix }) => mix) };
  const drawn = { request: poured, seed: 5, trays };
  const { sitting, tokens } = pourSitting(context, { trial, round: 1 }, drawn);
  const headers = { 'x-dropwise-ballot': tokens[0]!.token };
  const seen: string[] = [];
  const see = async (method: string, path: string, body?: unknown) => {
    const type = body === undefined ? {} : { 'content-type': 'application/json' };
    const sent = body === undefined ? {} : { body: JSON.stringify(body) };
    const response = await fetch(workbench.base + path, {
      method,
      headers: { ...headers, ...type },
      ...sent,
    });
    const told = [...response.headers].filter(([name]) => !OF_THE_MOMENT.includes(name));
    const text = await response.text();
    seen.push(`${method} ${path} ${response.status} ${JSON.stringify(told)}\n${text}`);
    return text.startsWith('{') ? JSON.parse(text) : null;
  };
  await see('GET', '/ballot.html');
  await see('GET', '/api/ballot');
  openSitting(context, { trial, sitting });
  const ballot = await see('GET', '/api/ballot');
  await see('POST', '/api/ballot/consent', { version: ballot.consent.version, mayTaste: true });
  for (const { position, code } of ballot.cups) {
    const id = String(position).repeat(32);
    const answer = { id, code, question: 'bitter', value: 10 * position, phone: id, count: position };
    await see('POST', '/api/ballot/answers', { answers: [answer] });
    await see('POST', '/api/ballot/answers', {
      answers: [{ ...answer, id: id.replace(/^./, 'f'), code: '999' }],
    });
    await see('PUT', '/api/ballot/progress', { position });
  }
  for (const name of Object.keys(ROUTES) as RouteName[]) {
    if (name === 'enter' || name === 'enterToPour' || name === 'leave') continue;
    const params = {
      trial,
      sitting,
      round: 1,
      mix: 'nix',
      reading: 'r',
      job: 'j',
      backup: 'b',
      assessor: 'Ann',
      ladder: 1,
      limit: 1,
    };
    await see(ROUTES[name].method, pathOf(name, params));
  }
  openKey(context, { trial, sitting }, 'over');
  await see('GET', '/api/ballot');
  await workbench.stop();
  return seen
    .join('\n\n')
    .replaceAll(workbench.base, 'http://here')
    .replaceAll(new URL(workbench.base).host, 'here');
}

describe('all that a taster receives', () => {
  test('holds no component, ratio, mix or seed', async () => {
    const traffic = await trafficOf();
    expect(traffic.length).toBeGreaterThan(5000);
    expect(traffic).toContain('Kann Chinin enthalten');
    expect(traffic).toContain('Holds alcohol: about 1.2 g in a cup');
    const { components } = smallBrief();
    const secret = [
      ...components.flatMap(({ id, name }) => [id, name]),
      ...smallMixes().map(({ mix }) => mix),
      'reference',
      'ratios',
      'grams',
      '"mix"',
      'blend',
      'seed',
    ];
    const withoutDescription = traffic.replace(/GET \/api\/openapi\.json 200[^\n]*\n[^\n]*\n/, '');
    for (const word of secret) expect(withoutDescription.toLowerCase()).not.toContain(word.toLowerCase());
    for (const { planned } of smallMixes())
      for (const share of Object.values(planned.grams))
        if (share % 1 !== 0) expect(withoutDescription).not.toContain(String(share));
  });

  test('is the same byte by byte when other mixes are in the same cups', async () => {
    const as = await trafficOf();
    expect(await trafficOf({ cups: (mixes) => [...mixes].reverse() })).toBe(as);
    expect(await trafficOf({ cups: (mixes) => [...mixes.slice(1), mixes[0]!] })).toBe(as);
  });

  test('is the same byte by byte whether or not a ladder of doses was drawn', async () => {
    const as = await trafficOf();
    expect(await trafficOf({ ladder: [0.5, 1, 2] })).toBe(as);
    expect(await trafficOf({ ladder: [1.25, 3.75, 11.25, 33.75] })).toBe(as);
  });

  test('is the same byte by byte whatever components, ratios and mixes are called and hold', async () => {
    const as = await trafficOf();
    const others: Partial<Secret>[] = [
      { components: (all) => all.map((one, i) => ({ ...one, name: all[(i + 1) % all.length]!.name })) },
      { components: (all) => all.map((one) => ({ ...one, name: `Neroli ${'x'.repeat(60)}` })) },
      { mixes: (all) => all.map((one, i) => ({ ...one, planned: all[(i + 1) % all.length]!.planned })) },
      {
        mixes: (all) =>
          all.map((one, i) => ({ ...one, mix: `a much longer name ${i}`, blend: `blend ${i}` })),
      },
    ];
    for (const other of others) expect(await trafficOf(other)).toBe(as);
  });
});

describe('codes and their order', () => {
  test('show no association with the mix over a thousand seeded sittings', () => {
    const mixes = ['qa1', 'qb2', 'qc3', 'reference'];
    const sums = new Map(mixes.map((mix) => [mix, { code: 0, square: 0, cups: 0, at: [0, 0, 0, 0] }]));
    for (let seed = 1; seed <= 1000; seed++)
      for (const { cups } of drawTrays(sittingRequest(), seed, []))
        for (const { mix, code, position } of cups) {
          const sum = sums.get(mix)!;
          sum.code += Number(code);
          sum.square += Number(code) ** 2;
          sum.cups += 1;
          sum.at[position - 1]! += 1;
        }
    const all = [...sums.values()];
    const cups = all.reduce((n, sum) => n + sum.cups, 0);
    const grand = all.reduce((n, sum) => n + sum.code, 0) / cups;
    const variance = all.reduce((n, sum) => n + sum.square, 0) / cups - grand ** 2;
    // Between-mix sum of squares over the variance: chi-square with 3 degrees of freedom, 16.27 at p = 0.001.
    const between = all.reduce((n, sum) => n + sum.cups * (sum.code / sum.cups - grand) ** 2, 0) / variance;
    expect(between).toBeLessThan(16.27);
    // Each mix in each of four positions: chi-square with 9 degrees of freedom, 27.88 at p = 0.001.
    const expected = cups / 16;
    const positions = all
      .flatMap(({ at }) => at)
      .reduce((n, count) => n + (count - expected) ** 2 / expected, 0);
    expect(positions).toBeLessThan(27.88);
  });
});
