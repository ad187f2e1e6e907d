/** A brief with three components, one setting and two attributes, and files that fit it. */
export const TINY_BRIEF = {
  format: 'brief/1',
  name: 'Tiny',
  components: [
    { id: 'peel', low: 0.1 },
    { id: 'lime', high: 0.6 },
    { id: 'pepper', high: 0.5, stocks: [5] },
  ],
  settings: [{ id: 'dose', unit: 'mL/L', low: 1, high: 3 }],
  batch: { grams: 10, readability: 0.01 },
  attributes: [
    { id: 'bitter', scale: [0, 100], target: 50 },
    { id: 'liking', scale: [1, 9], target: 'most' },
  ],
  panel: { assessors: 3, cupsPerSitting: 4 },
};

export const TINY_MIXES = `mix,round,peel,lime,pepper,dose
m1,1,8,1,1,1
m2,1,4,5,1,1
m3,1,5,0,5,1
m4,1,4,3,3,1
m5,1,8,1,1,3
m6,1,4,5,1,3
m7,1,5,0,5,3
m8,1,4,3,3,3
`;

const MIXES = ['m1', 'm2', 'm3', 'm4', 'm5', 'm6', 'm7', 'm8', 'reference'];

/** Scores of three assessors, two replicates, made by a fixed rule. */
export const TINY_SCORES = ['mix,assessor,session,replicate,position,bitter,liking']
  .concat(
    ['P1', 'P2', 'P3'].flatMap((assessor, a) =>
      [1, 2].flatMap((replicate) =>
        MIXES.map((mix, m) => {
          const wobble = (7 * a + 5 * m + 11 * replicate + a * m) % 9;
          const bitter = 20 + 6 * m + 4 * a + wobble;
          const liking = 1 + ((3 * m + a + replicate + (wobble % 3)) % 9);
          return `${mix},${assessor},evening ${replicate},${replicate},${m + 1},${bitter},${liking}`;
        }),
      ),
    ),
  )
  .join('\n')
  .concat('\n');

export const TINY_RATIOS = 'name,peel,lime,pepper,dose\nmiddle,0.5,0.25,0.25,2\nsharp,0.6,0.4,0,1\n';

/** A text with one line replaced (the header is line 1). */
export function withLine(text: string, line: number, content: string): string {
  const lines = text.split('\n');
  lines[line - 1] = content;
  return lines.join('\n');
}
