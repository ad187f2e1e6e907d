import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  FitResult,
  NextResult,
  OrderResult,
  PanelResult,
  PlanResult,
  PredictResult,
} from '../../../trials/schema/results.ts';
import { changed } from '../support/briefs.ts';
import { dropwise, Folder } from '../support/command-line.ts';
import { TINY_BRIEF, TINY_MIXES, TINY_RATIOS, TINY_SCORES } from '../support/tiny-trial.ts';

let folder: Folder;
beforeAll(() => {
  folder = new Folder();
});
afterAll(() => {
  folder.remove();
});

interface Files {
  brief?: object;
  mixes?: string;
  scores?: string;
  ratios?: string;
}

/** Numbers as targets only: what is best in a region takes longer to draw. */
const BRIEF = changed(TINY_BRIEF, ['attributes', 1, 'target'], 8);

function write({ brief = BRIEF, mixes = TINY_MIXES, scores = TINY_SCORES, ratios = TINY_RATIOS }: Files) {
  return {
    brief: folder.write('brief.json', brief),
    mixes: folder.write('mixes.csv', mixes),
    scores: folder.write('scores.csv', scores),
    ratios: folder.write('ratios.csv', ratios),
  };
}

async function predicted(files: Files) {
  const { brief, mixes, scores, ratios } = write(files);
  const run = await dropwise('predict', brief, mixes, scores, '--at', ratios, '--model', 'linear', '--json');
  expect(run.status, run.err).toBe(0);
  const { rows, warnings } = PredictResult.parse(JSON.parse(run.out));
  return { rows, warnings };
}

/** Halves in place of wholes, so that every mass has a decimal sign. */
const HALVES = TINY_MIXES.replaceAll(/(?<=,)(\d)(?=,\d+(,|\n))/g, '$1.5');

describe('ways of writing the same table', () => {
  let plain: Awaited<ReturnType<typeof predicted>>;
  let halves: Awaited<ReturnType<typeof predicted>>;
  beforeAll(async () => {
    plain = await predicted({});
    halves = await predicted({ mixes: HALVES });
  }, 60_000);

  const dress = (text: string, separator: string, comma: boolean) => {
    const decimals = comma ? text.replaceAll(/(\d)\.(\d)/g, '$1;;$2') : text;
    return decimals.replaceAll(',', separator).replaceAll(';;', ',');
  };
  const ways: [string, (text: string) => string][] = [
    ['byte-order mark', (text) => `\ufeff${text}`],
    ['CRLF', (text) => text.replaceAll('\n', '\r\n')],
    ['no line end at the end', (text) => text.trimEnd()],
    ['blank lines and rows of nothing', (text) => text.replaceAll('\n', '\n\n')],
    ['tabs', (text) => dress(text, '\t', false)],
    ['tabs and decimal commas', (text) => dress(text, '\t', true)],
    ['semicolons', (text) => dress(text, ';', false)],
    ['semicolons and decimal commas', (text) => dress(text, ';', true)],
    [
      'semicolons, decimal commas, CRLF and byte-order mark',
      (text) => `\ufeff${dress(text, ';', true).replaceAll('\n', '\r\n')}`,
    ],
    ['quoted cells', (text) => text.replaceAll(/[^,\n]+/g, '"$&"')],
    [
      'spaces around numbers and titles',
      (text) => text.replaceAll(/,(\d[\d.]*)/g, ', $1 ').replace('peel', ' peel '),
    ],
  ];

  test.each(ways)('%s', async (_, way) => {
    const dressed = await predicted({
      mixes: way(HALVES),
      ratios: way(TINY_RATIOS),
      scores: way(TINY_SCORES),
    });
    expect(dressed).toEqual(halves);
  });

  test('a stock column holds grams of the stock and counts at its strength', async () => {
    const stock = TINY_MIXES.replace('pepper', 'pepper@5').replaceAll(
      /^(m\d,1,\d,\d,)(\d)/gm,
      (_, head, g) => `${head}${20 * g}`,
    );
    expect(stock).toContain('m3,1,5,0,100,1');
    expect(await predicted({ mixes: stock })).toEqual(plain);
    const both = TINY_MIXES.replace('pepper', 'pepper,pepper@10').replaceAll(
      /^(m\d,1,\d,\d,)(\d)/gm,
      (_, head, g) => `${head}${Math.max(g - 1, 0)},${g < 1 ? 0 : 10}`,
    );
    const mixed = await predicted({ mixes: both });
    expect(mixed.warnings).toEqual([
      `${folder.path}/mixes.csv, line 1, column pepper@10: the brief lists no stock of 10 %; counted as named`,
    ]);
    expect(mixed.rows).toEqual(plain.rows);
  });

  test('1e-3 and other finite decimals are numbers', async () => {
    const mixes = TINY_MIXES.replace('m1,1,8,1,1,1', 'm1,1,8e0,.1e+1,10e-1,1.');
    expect(await predicted({ mixes })).toEqual(plain);
  });

  test('the order of rows does not matter', async () => {
    const [head, ...rows] = TINY_SCORES.trimEnd().split('\n');
    const turned = `${[head, ...rows.reverse()].join('\n')}\n`;
    const [a, b] = [plain, await predicted({ scores: turned })];
    a.rows.forEach((row, r) => {
      row.attributes.forEach(({ mean, standardError }, k) => {
        expect(b.rows[r]!.attributes[k]!.mean).toBeCloseTo(mean!, 8);
        expect(b.rows[r]!.attributes[k]!.standardError).toBeCloseTo(standardError!, 6);
      });
    });
  });
});

describe('names are only text', () => {
  const NAMES: Record<string, string> = {
    m1: '__proto__',
    m2: 'constructor',
    m3: '=1+1',
    m4: 'toString',
    m5: ' m5 ',
    m6: 'Pfeffer, rosa',
    m7: '𝔪'.repeat(80),
    m8: '{{x}}',
  };
  const quoted = (name: string) => `"${name}"`;
  const renamed = (text: string) =>
    text
      .replaceAll(/^(m\d)(?=,)/gm, (name) => quoted(NAMES[name]!))
      .replaceAll(',P1,', ',__proto__,')
      .replaceAll(',P2,', ',constructor,')
      .replaceAll(',P3,', ',=1+1,');

  test('whatever mixes and assessors spell, the numbers are the same', async () => {
    const plain = await predicted({});
    const odd = await predicted({ mixes: renamed(TINY_MIXES), scores: renamed(TINY_SCORES) });
    odd.rows.forEach((row, r) => {
      const same = plain.rows[r]!;
      row.attributes.forEach(({ mean, standardError, chance }, k) => {
        expect(mean).toBeCloseTo(same.attributes[k]!.mean!, 8);
        expect(standardError).toBeCloseTo(same.attributes[k]!.standardError!, 8);
        // Names set the order in which things are drawn: 4000 draws are good to 0.008, taken three times.
        expect(Math.abs(chance! - same.attributes[k]!.chance!)).toBeLessThan(0.024);
      });
    });
  });

  test('they come back as they are', async () => {
    const { scores, brief, mixes } = write({ mixes: renamed(TINY_MIXES), scores: renamed(TINY_SCORES) });
    const panel = await dropwise('panel', scores, '--json');
    const [bitter] = PanelResult.parse(JSON.parse(panel.out)).attributes;
    expect(new Set(bitter!.means.map(({ mix }) => mix))).toEqual(
      new Set([...Object.values(NAMES), 'reference']),
    );
    expect(bitter!.assessors.map(({ assessor }) => assessor).sort()).toEqual([
      '=1+1',
      '__proto__',
      'constructor',
    ]);
    expect((await dropwise('panel', scores)).out).toContain('__proto__');
    expect((await dropwise('next', brief, mixes, scores, '--count', '1', '--json')).status).toBe(0);
    const order = await dropwise(
      'order',
      '--assessors',
      '2',
      '--mixes',
      '__proto__,constructor,=1+1',
      '--json',
    );
    const served = OrderResult.parse(JSON.parse(order.out)).sittings.flatMap(({ cups }) =>
      cups.map(({ mix }) => mix),
    );
    expect(new Set(served)).toEqual(new Set(['__proto__', 'constructor', '=1+1']));
  });

  test('ids that spell inherited names survive every command', async () => {
    const ids: Record<string, string> = {
      peel: 'constructor',
      lime: 'toString',
      pepper: 'valueOf',
      dose: 'hasOwnProperty',
      bitter: 'isPrototypeOf',
      liking: 'toJSON',
    };
    const swap = (text: string) => text.replaceAll(/peel|lime|pepper|dose|bitter|liking/g, (id) => ids[id]!);
    const bounded = changed(BRIEF, ['bounds'], [{ of: { lime: 1, pepper: 1 }, least: 0.05 }]);
    const { brief, mixes, scores, ratios } = write({
      brief: JSON.parse(swap(JSON.stringify(bounded))) as object,
      mixes: swap(TINY_MIXES),
      scores: swap(TINY_SCORES),
      ratios: swap(TINY_RATIOS),
    });
    const runs = await Promise.all([
      dropwise('plan', brief, '--mixes', '8', '--json'),
      dropwise('fit', brief, mixes, scores, '--json'),
      dropwise('predict', brief, mixes, scores, '--at', ratios, '--json'),
      dropwise('next', brief, mixes, scores, '--count', '2', '--json'),
      dropwise('panel', scores, '--brief', brief, '--json'),
    ]);
    expect(runs.map(({ status, err }) => [status, err])).toEqual(runs.map(() => [0, '']));
    const [plan, fit, predict, next] = runs.map(({ out }) => JSON.parse(out) as unknown);
    expect(Object.keys(PlanResult.parse(plan).mixes[0]!.grams)).toEqual([
      'constructor',
      'toString',
      'valueOf',
    ]);
    expect(FitResult.parse(fit).attributes[0]!.effects.map(({ component }) => component)).toEqual([
      'constructor',
      'toString',
      'valueOf',
    ]);
    expect(PredictResult.parse(predict).rows[0]!.ratios).toEqual({
      constructor: 0.5,
      toString: 0.25,
      valueOf: 0.25,
    });
    expect(Object.keys(NextResult.parse(next).best.predicted)).toEqual(['isPrototypeOf', 'toJSON']);
  });
});

describe('what is accepted with a warning', () => {
  const fitted = async (files: Files) => {
    const { brief, mixes, scores } = write(files);
    const run = await dropwise('fit', brief, mixes, scores, '--model', 'linear', '--json');
    expect(run.status, run.err).toBe(0);
    return { ...FitResult.parse(JSON.parse(run.out)), err: run.err };
  };

  test('unknown columns and JSON fields, named in the document and on standard error', async () => {
    const mixes = TINY_MIXES.replaceAll(/$/gm, ',x').replace('dose,x', 'dose,colour').replace(/,x$/, '');
    const { warnings, err } = await fitted({ brief: { ...BRIEF, mood: 1 }, mixes });
    expect(warnings).toEqual([
      expect.stringMatching(/brief\.json, line \d+, column \d+, mood: unknown field, passed over$/),
      expect.stringMatching(/mixes\.csv, line 1, column colour: unknown column, passed over$/),
    ]);
    expect(err.match(/^warning: /gm)).toHaveLength(2);
  });

  test('one assessor: least squares, no variance of assessors', async () => {
    const scores = TINY_SCORES.replaceAll(/^.*,P[23],.*\n/gm, '');
    const { attributes } = await fitted({ scores });
    expect(attributes[0]!.variance.assessor).toBeNull();
    expect(attributes[0]!.coefficients[0]!.denDf).toBeGreaterThan(0);
    const { warnings } = await panelOf(scores);
    expect(warnings.join()).toMatch(/one assessor/i);
  });

  const panelOf = async (scores: string) => {
    const run = await dropwise('panel', folder.write('scores.csv', scores), '--json');
    expect(run.status, run.err).toBe(0);
    const { attributes, warnings } = PanelResult.parse(JSON.parse(run.out));
    return { attributes, warnings: [...warnings, ...attributes.flatMap((a) => a['warnings'] as string[])] };
  };

  test('one mix', async () => {
    const { attributes } = await panelOf(TINY_SCORES.replaceAll(/^(m[2-8]|reference),.*\n/gm, ''));
    expect(attributes[0]!.mixTest.p).toBeNull();
    expect(attributes[0]!['reason']).toMatch(/mix/);
  });

  test('constant and wholly missing scores: null with a reason', async () => {
    const scores = TINY_SCORES.replaceAll(/,\d+,\d\n/g, ',50,\n');
    const { attributes } = await fitted({ scores });
    for (const attribute of attributes) {
      expect(attribute.model).toBeNull();
      expect(attribute['reason']).toEqual(expect.stringMatching(/\w/));
      expect(attribute.warnings.length).toBeGreaterThan(0);
    }
    const { attributes: read } = await panelOf(scores);
    expect(read.map(({ mixTest }) => mixTest.p)).toEqual([null, null]);
  });

  test('an attribute without a column of its own', async () => {
    const scores = TINY_SCORES.replaceAll(/,\d(?=\n)/g, '').replace(',liking', '');
    const { warnings, attributes } = await fitted({ scores });
    expect(attributes.map(({ id }) => id)).toEqual(['bitter', 'liking']);
    expect(warnings[0]).toMatch(/scores\.csv: no column liking; nobody has scored it$/);
  });

  test('a high that other limits make unreachable', async () => {
    const brief = changed(BRIEF, ['components', 0, 'low'], 0.7);
    const run = await dropwise('plan', write({ brief }).brief, '--mixes', '6', '--json');
    expect(run.status, run.err).toBe(0);
    expect(PlanResult.parse(JSON.parse(run.out)).warnings.join('\n')).toMatch(/0\.3/);
  });

  test('decimal points and decimal commas in one file', async () => {
    const mixes = 'mix;peel;lime;pepper;dose\nm1;8,5;1;1;1\nm2;4.5;5;1;1\nm3;5;0;5;3\nm4;2;4;4;3\n';
    const scores = TINY_SCORES.replaceAll(/^m[5-8],.*\n/gm, '');
    const { warnings } = await fitted({ mixes, scores });
    expect(warnings).toEqual([
      expect.stringMatching(
        /mixes\.csv: decimal points \(line 3\) and decimal commas \(line 2\) in one file/,
      ),
    ]);
  });

  test('a warm-up cup is never analysed', async () => {
    const scores = `${TINY_SCORES}warmup,P1,evening 1,1,,0,1\nwarmup,P2,evening 1,1,,0,1\n`;
    expect((await fitted({ scores })).attributes).toEqual((await fitted({})).attributes);
  });
});
