import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { dropwise, Folder } from '../support/command-line.ts';
import { TINY_BRIEF } from '../support/tiny-trial.ts';

let folder: Folder;
beforeAll(() => {
  folder = new Folder();
});
afterAll(() => {
  folder.remove();
});

const HOURS: Record<string, (number | null)[]> = {
  m1: [24, 200],
  m2: [24, null],
  m3: [null, 30],
  reference: [null, null],
};

/** Two sittings of four people; each doubling of the age takes two points off. */
function scoresFile(column = 'hours'): string {
  const rows = Object.entries(HOURS).flatMap(([mix, hours], m) =>
    hours.flatMap((own, s) =>
      own === null && mix !== 'reference'
        ? []
        : [1, 2, 3, 4].map((a) => {
            const y = 60 + 3 * m + a + 4 * s - 2 * Math.log2(own ?? 1) + ((a * 7 + m * 5 + s * 3) % 4) / 10;
            return `${mix},P${a},${s + 1},${y},${own ?? ''}`;
          }),
    ),
  );
  return folder.write('scores.csv', `${[`mix,assessor,session,bitter,${column}`, ...rows].join('\n')}\n`);
}

const brief = () =>
  folder.write('brief.json', { ...TINY_BRIEF, attributes: [{ id: 'bitter', scale: [0, 100], target: 60 }] });

describe('--age', () => {
  test('counts the hours in a column of the scores', async () => {
    const { status, out, err } = await dropwise(
      'panel',
      scoresFile(),
      '--brief',
      brief(),
      '--age',
      'hours',
      '--json',
    );
    expect(status, err).toBe(0);
    const { attributes, warnings } = JSON.parse(out);
    expect(attributes[0].age).toMatchObject({ status: 'counted', youngest: 24, oldest: 200 });
    expect(Math.abs(attributes[0].age.effect.estimate + 2)).toBeLessThan(0.2);
    expect(warnings).toEqual([]);
    const shown = await dropwise('panel', scoresFile(), '--age', 'hours');
    expect(shown.out).toContain("Age shows: each doubling of a bottle's age moves the score by -2");
  });

  test('without it the column is what it always was: unknown beside a brief, an attribute without one', async () => {
    const withBrief = await dropwise('panel', scoresFile(), '--brief', brief(), '--json');
    expect(JSON.parse(withBrief.out).attributes[0]).not.toHaveProperty('age');
    expect(JSON.parse(withBrief.out).warnings.join()).toContain('column hours: unknown column, passed over');
    const alone = await dropwise('panel', scoresFile(), '--json');
    expect(JSON.parse(alone.out).attributes.map(({ id }: { id: string }) => id)).toEqual(['bitter', 'hours']);
  });

  test('is refused where the column is not there, is something else, or holds no hours', async () => {
    const say = async (...args: string[]) => {
      const { status, err, out } = await dropwise('panel', ...args);
      expect([status, out]).toEqual([1, '']);
      return err;
    };
    expect(await say(scoresFile(), '--age', 'days')).toMatch(/line 1, column days: .*no such column/);
    expect(await say(scoresFile(), '--age', 'session')).toContain('a column of its own');
    expect(await say(scoresFile(), '--age', 'bitter', '--brief', brief())).toContain('a column of its own');
    const wrong = folder.write('wrong.csv', 'mix,assessor,bitter,hours\nm1,P1,3,-4\n');
    expect(await say(wrong, '--age', 'hours')).toMatch(
      /line 2, column hours: found "-4", allowed hours, 0 or more/,
    );
  });
});
