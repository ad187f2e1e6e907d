import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { changed } from '../support/briefs.ts';
import { dropwise, Folder } from '../support/command-line.ts';
import { TINY_BRIEF, TINY_MIXES, TINY_RATIOS, TINY_SCORES, withLine } from '../support/tiny-trial.ts';

let folder: Folder;
beforeAll(() => {
  folder = new Folder();
});
afterAll(() => {
  folder.remove();
});

interface Files {
  brief?: unknown;
  mixes?: string | Uint8Array;
  scores?: string | Uint8Array;
  ratios?: string;
}

/** Runs `predict`, which reads all four files. */
function predict({
  brief = TINY_BRIEF,
  mixes = TINY_MIXES,
  scores = TINY_SCORES,
  ratios = TINY_RATIOS,
}: Files) {
  return dropwise(
    'predict',
    folder.write('brief.json', brief as object),
    folder.write('mixes.csv', mixes),
    folder.write('scores.csv', scores),
    '--at',
    folder.write('ratios.csv', ratios),
    '--model',
    'linear',
    '--json',
  );
}

const firstRow = TINY_SCORES.split('\n')[1]!;

/** What each fault has to say: place, found, allowed. */
const REFUSED: [string, Files, string[]][] = [
  [
    'a column of mixes.csv missing',
    { mixes: TINY_MIXES.replace('lime', 'limo') },
    ['mixes.csv, line 1, column lime: found no such column', 'peel, limo, pepper', 'allowed a column lime'],
  ],
  [
    'a setting missing',
    { mixes: TINY_MIXES.replace(',dose', ',dosage') },
    ['mixes.csv, line 1, column dose: found no such column'],
  ],
  [
    'no mix column',
    { mixes: TINY_MIXES.replace('mix,', 'name,') },
    ['mixes.csv, line 1, column mix: found no such column'],
  ],
  [
    'no assessor column',
    { scores: TINY_SCORES.replace('assessor', 'taster') },
    ['scores.csv, line 1, column assessor: found no such column'],
  ],
  [
    'no attribute column',
    { scores: TINY_SCORES.replace('bitter,liking', 'bitterness,likes') },
    [
      'scores.csv, line 1: found no column of scores, allowed at least one column for an attribute: bitter, liking',
    ],
  ],
  [
    'a repeated column',
    { mixes: TINY_MIXES.replace('round', 'peel') },
    ['mixes.csv, line 1, column peel: found the column twice, allowed each column once'],
  ],
  [
    'a repeated column of scores',
    { scores: TINY_SCORES.replace('liking', 'bitter') },
    ['scores.csv, line 1, column bitter: found the column twice'],
  ],
  [
    'a stock of an unknown component',
    { mixes: TINY_MIXES.replace('round', 'rose@5') },
    ['mixes.csv, line 1, column rose@5: found "rose@5", allowed component@strength'],
  ],
  [
    'a stock of 100 %',
    { mixes: TINY_MIXES.replace('round', 'pepper@100') },
    ['mixes.csv, line 1, column pepper@100: found "pepper@100", allowed component@strength'],
  ],
  [
    'a stock twice',
    { mixes: TINY_MIXES.replace('mix,round', 'mix,pepper@5,pepper@5.0').replaceAll(',1,', ',1,1,') },
    ['column pepper@5.0: found a second column for pepper@5, allowed one'],
  ],
  [
    'a row too short',
    { mixes: withLine(TINY_MIXES, 3, 'm2,1,4,5,1') },
    ['mixes.csv, line 3, column 5: found 5 cells', 'allowed 6 cells, as the header has'],
  ],
  [
    'a row too long',
    { scores: withLine(TINY_SCORES, 2, `${firstRow},9`) },
    ['scores.csv, line 2, column 8: found 8 cells (one too many is "9"), allowed 7 cells'],
  ],
  [
    'a mix twice',
    { mixes: withLine(TINY_MIXES, 4, 'm1,1,5,0,5,1') },
    ['mixes.csv, line 4, column mix: found "m1", allowed each mix once (line 2 has it)'],
  ],
  [
    'unequal grams in a blend',
    { mixes: 'mix,blend,peel,lime,pepper,dose\nm1,b,8,1,1,1\nm2,b,8,1.01,1,3\n' },
    ['mixes.csv, line 3, column lime: found 1.01, allowed 1 as in line 2, since both are of blend "b"'],
  ],
  [
    'the same cup twice',
    { scores: withLine(TINY_SCORES, 3, firstRow) },
    [
      'scores.csv, line 3, column mix: found "P1, m1, evening 1, 1", allowed the same assessor, mix, session and replicate once (line 2 has them)',
    ],
  ],
  [
    'a mix that was not weighed',
    { scores: withLine(TINY_SCORES, 2, firstRow.replace('m1', 'm9')) },
    ['scores.csv, line 2, column mix: found "m9", allowed a mix of mixes.csv, reference or warmup'],
  ],
  [
    'an empty mass',
    { mixes: withLine(TINY_MIXES, 2, 'm1,1,8,,1,1') },
    ['mixes.csv, line 2, column lime: found "", allowed a mass in grams, 0 or more'],
  ],
  [
    'a negative mass',
    { mixes: withLine(TINY_MIXES, 2, 'm1,1,8,-1,1,1') },
    ['mixes.csv, line 2, column lime: found "-1", allowed a mass in grams'],
  ],
  [
    'all masses zero',
    { mixes: withLine(TINY_MIXES, 2, 'm1,1,0,0,0,1') },
    ['mixes.csv, line 2, column peel: found masses that are all zero, allowed at least one mass above 0'],
  ],
  [
    'a mass with a unit',
    { mixes: withLine(TINY_MIXES, 2, 'm1,1,8 g,1,1,1') },
    ['mixes.csv, line 2, column peel: found "8 g"'],
  ],
  [
    'a mass in hex',
    { mixes: withLine(TINY_MIXES, 2, 'm1,1,0x8,1,1,1') },
    ['mixes.csv, line 2, column peel: found "0x8"'],
  ],
  [
    'a mass that is no number',
    { mixes: withLine(TINY_MIXES, 2, 'm1,1,NaN,1,1,1') },
    ['mixes.csv, line 2, column peel: found "NaN"'],
  ],
  [
    'an infinite mass',
    { mixes: withLine(TINY_MIXES, 2, 'm1,1,1e999,1,1,1') },
    ['mixes.csv, line 2, column peel: found "1e999"'],
  ],
  [
    'a decimal comma among commas',
    { mixes: withLine(TINY_MIXES, 2, 'm1,1,"8,5",1,1,1') },
    ['mixes.csv, line 2, column peel: found "8,5"'],
  ],
  [
    'an empty setting',
    { mixes: withLine(TINY_MIXES, 2, 'm1,1,8,1,1,') },
    ['mixes.csv, line 2, column dose: found "", allowed a number'],
  ],
  [
    'a reserved name',
    { mixes: withLine(TINY_MIXES, 2, 'reference,1,8,1,1,1') },
    ['mixes.csv, line 2, column mix: found "reference", allowed any name but reference and warmup'],
  ],
  [
    'an empty name',
    { mixes: withLine(TINY_MIXES, 2, ',1,8,1,1,1') },
    ['mixes.csv, line 2, column mix: found "", allowed 1 to 80 characters'],
  ],
  [
    'a name of 81 characters',
    { mixes: withLine(TINY_MIXES, 2, `${'é'.repeat(81)},1,8,1,1,1`) },
    ['mixes.csv, line 2, column mix: found "éé', 'allowed 1 to 80 characters'],
  ],
  [
    'a control character in a name',
    { mixes: withLine(TINY_MIXES, 2, 'm\u0007,1,8,1,1,1') },
    ['mixes.csv, line 2, column mix: found "m\\u0007", allowed 1 to 80 characters'],
  ],
  [
    'an empty assessor',
    { scores: withLine(TINY_SCORES, 2, 'm1,,evening 1,1,1,50,5') },
    ['scores.csv, line 2, column assessor: found "", allowed 1 to 80 characters'],
  ],
  [
    'a score above the scale',
    { scores: withLine(TINY_SCORES, 2, 'm1,P1,evening 1,1,1,100.5,5') },
    ['scores.csv, line 2, column bitter: found "100.5", allowed a number on the scale, 0 to 100, or nothing'],
  ],
  [
    'a score below the scale',
    { scores: withLine(TINY_SCORES, 2, 'm1,P1,evening 1,1,1,50,0') },
    ['scores.csv, line 2, column liking: found "0", allowed a number on the scale, 1 to 9'],
  ],
  [
    'a score in words',
    { scores: withLine(TINY_SCORES, 2, 'm1,P1,evening 1,1,1,high,5') },
    ['scores.csv, line 2, column bitter: found "high"'],
  ],
  [
    'a position of 0',
    { scores: withLine(TINY_SCORES, 2, 'm1,P1,evening 1,1,0,50,5') },
    ['scores.csv, line 2, column position: found "0", allowed a whole number, 1 = first cup'],
  ],
  [
    'a position of 1.5',
    { scores: withLine(TINY_SCORES, 2, 'm1,P1,evening 1,1,1.5,50,5') },
    ['scores.csv, line 2, column position: found "1.5"'],
  ],
  [
    'no rows',
    { mixes: 'mix,peel,lime,pepper,dose\n' },
    ['mixes.csv, line 2: found no rows, allowed a row for each mix'],
  ],
  ['nothing at all', { scores: '' }, ['scores.csv: found no line, allowed a line of column names']],
  [
    'a quote left open',
    { mixes: withLine(TINY_MIXES, 3, '"m2,1,4,5,1,1') },
    ['mixes.csv, line 3: found a quote that is not closed'],
  ],
  [
    'UTF-16',
    { mixes: new Uint8Array(Buffer.from(`\ufeff${TINY_MIXES}`, 'utf16le')) },
    ['mixes.csv: found UTF-16 (little-endian), allowed UTF-8 text'],
  ],
  [
    'another encoding',
    { scores: new Uint8Array(Buffer.from(withLine(TINY_SCORES, 3, 'm2,Zoë,1,1,1,5,5'), 'latin1')) },
    ['scores.csv, line 3: found text that is not UTF-8 (byte EB'],
  ],
  [
    'proportions that do not sum to 1',
    { ratios: 'peel,lime,pepper,dose\n0.5,0.3,0.3,2\n' },
    [
      'ratios.csv, line 2, column peel: found proportions that sum to 1.1, allowed a sum of 1 within 0.000001',
    ],
  ],
  [
    'a proportion below 0',
    { ratios: 'peel,lime,pepper,dose\n1.2,-0.2,0,2\n' },
    ['ratios.csv, line 2, column peel: found "1.2"', 'ratios.csv, line 2, column lime: found "-0.2"'],
  ],
  [
    'a unit that is not g',
    { ratios: 'peel,lime,pepper,dose,unit\n5,3,2,2,mg\n' },
    ['ratios.csv, line 2, column unit: found "mg", allowed g for grams'],
  ],
  [
    'no grams at all',
    { ratios: 'peel,lime,pepper,dose,unit\n0,0,0,2,g\n' },
    ['ratios.csv, line 2, column peel: found masses that are all zero'],
  ],
  [
    'a ratio without a setting',
    { ratios: 'peel,lime,pepper\n0.5,0.3,0.2\n' },
    ['ratios.csv, line 1, column dose: found no such column'],
  ],
  [
    'an unknown format',
    { brief: changed(TINY_BRIEF, ['format'], 'brief/2') },
    ['brief.json, line 2, column 13, format: found "brief/2", allowed "brief/1"'],
  ],
  [
    'readability that does not divide',
    { brief: changed(TINY_BRIEF, ['batch', 'readability'], 0.03) },
    ['batch.readability: found 0.03', '(the nearest are 0.02 and 0.04); or batch.grams 9.99'],
  ],
  [
    'a target off the scale',
    { brief: changed(TINY_BRIEF, ['attributes', 0, 'target'], 120) },
    ['attributes[0].target: found 120, allowed on the scale, 0 to 100'],
  ],
  [
    'a bound that crosses itself',
    { brief: changed(TINY_BRIEF, ['bounds'], [{ of: { peel: 1 }, least: 0.6, most: 0.5 }]) },
    ['bounds[0].most: found 0.5, allowed at least 0.6', 'crosses itself'],
  ],
  [
    'an empty region',
    { brief: changed(TINY_BRIEF, ['bounds'], [{ of: { lime: 1, pepper: 1 }, least: 0.95 }]) },
    ['No mix obeys all bounds'],
  ],
  [
    'a brief that is no JSON',
    { brief: '{"format": "brief/1",\n "name": }' },
    ['brief.json, line 2, column 10: found "}", allowed a JSON value'],
  ],
  [
    'an id that is none',
    { brief: changed(TINY_BRIEF, ['components', 1, 'id'], '__proto__') },
    ['components[1].id: found "__proto__", allowed 1 to 40 letters, digits, _ or -'],
  ],
];

describe('what is refused: exit status 1, nothing on standard output, the place on standard error', () => {
  test.each(REFUSED)('%s', async (_, files, messages) => {
    const { status, out, err } = await predict(files);
    expect(
      err
        .split('\n')
        .filter((line) => line !== '')
        .every((line) => line.startsWith('dropwise: ')),
    ).toBe(true);
    for (const message of messages) expect(err).toContain(message);
    expect(out).toBe('');
    expect(status).toBe(1);
  });

  test('the files themselves are accepted', async () => {
    const { status, err } = await predict({});
    expect(err).toBe('');
    expect(status).toBe(0);
  });

  test('faults of both tables are told in one go, twenty a file and a count', async () => {
    const scores = TINY_SCORES.replaceAll(/,(\d+),(\d)\n/g, ',x,$2\n');
    const { status, err } = await predict({ mixes: withLine(TINY_MIXES, 2, 'm1,1,-8,1,x,1'), scores });
    const lines = err.trim().split('\n');
    expect(status).toBe(1);
    expect(lines.filter((line) => line.includes('mixes.csv'))).toHaveLength(2);
    expect(lines.filter((line) => line.includes('scores.csv'))).toHaveLength(20);
    expect(lines.at(-1)).toBe('dropwise: and 34 more faults');
  });

  test.each(['brief.json', 'mixes.csv', 'scores.csv'])('a file that is not there: %s', async (name) => {
    const files = ['brief.json', 'mixes.csv', 'scores.csv'].map((file) =>
      file === name
        ? `${folder.path}/nowhere/${file}`
        : folder.write(
            file,
            { 'brief.json': JSON.stringify(TINY_BRIEF), 'mixes.csv': TINY_MIXES, 'scores.csv': TINY_SCORES }[
              file
            ]!,
          ),
    );
    const { status, out, err } = await dropwise('fit', ...files, '--json');
    expect(err).toBe(
      `dropwise: ${folder.path}/nowhere/${name}: found no such file, allowed a file that can be read\n`,
    );
    expect({ status, out }).toEqual({ status: 1, out: '' });
  });

  test('a folder in place of a file', async () => {
    const { status, err } = await dropwise('panel', folder.path);
    expect(err).toContain('found a folder, allowed a file that can be read');
    expect(status).toBe(1);
  });

  test('line numbers count the lines of the file, also after quoted line breaks', async () => {
    const scores = `note,mix,assessor,bitter\n"two\nlines",m1,P1,50\n\n"more\r\nlines",m2,P1,x\n`;
    const { err } = await predict({ scores });
    expect(err).toContain('scores.csv, line 5, column bitter: found "x"');
  });
});
