import { describe, expect, it } from 'vitest';
import type { AssessorReading } from '../../../engine/panel/reading-types.ts';
import {
  ageSentences,
  panelSentence,
  shiftsSentence,
  shownSentence,
  standingOut,
  trustOf,
} from '../../../web/workbench/reading/trust.ts';
import type { AttributeReading } from '../../../web/workbench/results.ts';

const NAMES: Record<string, string> = {
  zest: 'Fresh peel zest',
  catty: 'Sulphury, catty',
  spice: 'Spice (aroma, not heat)',
};

function own(assessor: string, agreement: number | null, scaling: number | null): AssessorReading {
  const test = { f: null, numDf: null, denDf: null, p: null };
  return {
    assessor,
    cups: 4,
    setAside: false,
    discrimination: test,
    repeatability: null,
    agreement,
    scaling,
    offset: null,
    drift: test,
    says: '',
  };
}

function panel(
  rows: Record<string, [number | null, number | null]>,
  p: number | null = 0.001,
): AttributeReading[] {
  return Object.entries(rows).map(
    ([id, [agreement, scaling]]) =>
      ({
        id,
        mixTest: { f: 1, numDf: 1, denDf: 1, p },
        assessors: [own('P1', agreement, scaling)],
      }) as unknown as AttributeReading,
  );
}

const sentence = (rows: Parameters<typeof panel>[0]) => trustOf(panel(rows), (id) => NAMES[id]!)[0]!.sentence;

describe('a taster in a sentence', () => {
  it('ranks as the others do', () => {
    expect(sentence({ zest: [0.8, 1], catty: [0.6, 1.1] })).toBe(
      'Ranks the mixes as the others do on every question.',
    );
  });

  it('who uses little of the scale is recognised, not faulted', () => {
    expect(sentence({ zest: [0.8, 0.6], catty: [0.6, 0.8] })).toBe(
      'Ranks the mixes as the others do on every question; uses less of the scale, about 0.7 of what the panel does.',
    );
  });

  it('who hardly smells something is told by what', () => {
    expect(sentence({ zest: [0.8, 1], catty: [0.2, 0.2], spice: [0.9, 1.1] })).toBe(
      'Ranks the mixes as the others do, but only loosely on sulphury, catty; reacts weakly to sulphury, catty.',
    );
  });

  it('who turns a scale round is asked about the word', () => {
    expect(sentence({ zest: [0.8, 1], spice: [-0.6, -0.9], catty: [0.7, 1] })).toContain(
      'the other way round on spice',
    );
    expect(sentence({ zest: [-0.8, -1], spice: [-0.6, -0.9] })).toContain('ask what the words mean');
  });

  it('with too few cups is not judged', () => {
    expect(sentence({ zest: [null, null], catty: [null, null] })).toBe('Too few cups to be judged.');
  });
});

describe('the panel in a sentence', () => {
  const say = (p: number | null) =>
    panelSentence(panel({ zest: [1, 1], catty: [1, 1] }, p), (id) => NAMES[id]!);

  it('tells the mixes apart, or not, or nobody knows', () => {
    expect(say(0.01)).toContain('on every question');
    expect(say(0.3)).toContain('cannot tell');
    expect(say(null)).toContain('too few scores');
    const mixed = [...panel({ zest: [1, 1] }, 0.01), ...panel({ spice: [1, 1] }, 0.4)];
    expect(panelSentence(mixed, (id) => NAMES[id]!)).toBe(
      'Together the panel tells the mixes apart on 1 of 2 questions, not on spice.',
    );
  });
});

describe('tasters who shift between sittings', () => {
  const shifts = (says: string | null) => ({ variance: 4, statistic: 9, p: 0.001, says });
  const reading = (says: Record<string, string | null>) =>
    Object.entries(panel({ zest: [0.8, 1], catty: [0.6, 1] })).map(([, one]) => ({
      ...one,
      ...(one.id in says ? { shifts: shifts(says[one.id]!) } : {}),
    }));

  it('are told by the questions they shift on, and not where none does', () => {
    const names = (id: string) => NAMES[id]!;
    expect(shiftsSentence(reading({ zest: 'they shift', catty: null }), names)).toBe(
      'From sitting to sitting tasters score higher or lower, each in their own way, on fresh peel zest: ' +
        'what differs there may look surer than it is.',
    );
    expect(shiftsSentence(reading({ zest: null }), names)).toBeNull();
    expect(shiftsSentence(reading({}), names)).toBeNull();
  });
});

describe('a large panel', () => {
  const NAMED = (id: string) => NAMES[id]!;
  /** `against` tasters rank the other way round on the second question, by more and more; `loosely` ones only loosely. */
  const large = (size: number, against: number, loosely: number) =>
    trustOf(
      ['zest', 'catty'].map(
        (id) =>
          ({
            id,
            mixTest: { f: 1, numDf: 1, denDf: 1, p: 0.001 },
            assessors: Array.from({ length: size }, (_, i) => {
              const odd = id === 'catty' && i >= size - against;
              const loose = id === 'catty' && i < loosely;
              return own(`P${i + 1}`, odd ? -0.4 : loose ? 0.2 : 0.8, 1);
            }),
          }) as unknown as AttributeReading,
      ),
      NAMED,
    );

  it('of up to twelve is shown whole', () => {
    const rows = large(12, 1, 1);
    expect(standingOut(rows)).toEqual({ shown: rows, others: [] });
  });

  it('shows those who stand out most, at most five, and keeps everybody', () => {
    const rows = large(60, 3, 20);
    const { shown, others } = standingOut(rows);
    expect(shown.map(({ assessor }) => assessor)).toEqual([...['P58', 'P59', 'P60'], ...['P1', 'P2']]);
    expect([...shown, ...others].map(({ assessor }) => assessor).sort()).toEqual(
      rows.map(({ assessor }) => assessor).sort(),
    );
    expect(shownSentence(rows, shown)).toBe(
      '37 of 60 tasters rank the mixes as the others do on every question. Those who stand out most:',
    );
  });

  it('is not blamed for a question that nobody answered', () => {
    const silent = { attribute: 'silent', name: 'Silent', reading: null, ranking: 'unknown' as const };
    const rows = large(60, 3, 20).map((row) => ({ ...row, marks: [...row.marks, silent] }));
    expect(shownSentence(rows, [])).toBe(
      '37 of 60 tasters rank the mixes as the others do on every question that can be judged.',
    );
  });

  it('in which nobody stands out shows nobody at once', () => {
    const rows = large(60, 0, 0);
    const { shown } = standingOut(rows);
    expect(shown).toEqual([]);
    expect(shownSentence(rows, shown)).toBe(
      '60 of 60 tasters rank the mixes as the others do on every question.',
    );
  });
});

describe('bottles of several ages', () => {
  const plain = (id: string) => ({ id }) as unknown as AttributeReading;
  const aged = (id: string, says: string) => ({ id, age: { says } }) as unknown as AttributeReading;
  const words = (attributes: AttributeReading[], age?: { status: string; says: string }) =>
    ageSentences({ attributes, ...(age ? { age } : {}) }, (id) => NAMES[id]!);

  it('say once why nothing can be told, and nothing where all are alike or unknown', () => {
    expect(words([plain('zest')], { status: 'each-mix-once', says: 'No.' })).toEqual(['No.']);
    expect(words([plain('zest')], { status: 'alike', says: 'Alike.' })).toEqual([]);
    expect(words([plain('zest')])).toEqual([]);
  });

  it('say for each question what age did', () => {
    const rows = [aged('zest', 'It shows.'), aged('catty', 'It does not.')];
    expect(words(rows, { status: 'counted', says: 'Age was counted.' })).toEqual([
      'Fresh peel zest: It shows.',
      'Sulphury, catty: It does not.',
    ]);
  });
});
