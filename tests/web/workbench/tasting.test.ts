import { describe, expect, it } from 'vitest';
import type { Live, PouringSheet } from '../../../trials/schema/api.ts';
import { SittingRequest } from '../../../trials/schema/api.ts';
import {
  answersOf,
  fieldHelp,
  isOneKey,
  type PaperField,
  paperFields,
  readTyped,
  shownOnPaper,
} from '../../../web/workbench/bench/paper-fields.ts';
import {
  cupsEach,
  requestOf,
  type SittingDraft,
  sittingCare,
  sittingFault,
} from '../../../web/workbench/bench/sitting-draft.ts';
import { standsAt, troublesOf } from '../../../web/workbench/bench/tray-state.ts';

type Question = PouringSheet['questions'][number];
const ask = (id: string, form: Question['form'], scale: [number, number]): Question => ({
  id,
  name: id,
  form,
  scale,
  words: [],
});
const tray = {
  assessor: 'Ann',
  cups: [
    { position: 1, code: '111', mix: 'warmup', part: 1 },
    { position: 2, code: '222', mix: 'm1', part: 2 },
    { position: 3, code: '333', mix: 'm2', part: 3 },
  ],
};
const mark = (field: PaperField, text: string) => {
  const read = readTyped(field, text);
  return read.state === 'mark' ? read.value : read.state;
};

describe('a paper ballot on the keyboard', () => {
  const fields = paperFields(tray, [
    ask('bitter', 'line', [0, 10]),
    ask('liking', 'liking', [1, 9]),
    ask('words', 'describe', [0, 1]),
    ask('best', 'ranking', [0, 1]),
  ]);

  it('runs cup by cup as printed, rankings of the counted cups last', () => {
    expect(fields.map(({ key }) => key)).toEqual([
      ...['111', '222', '333'].flatMap((code) => [`${code} bitter`, `${code} liking`, `${code} words`]),
      ...['222 best', '333 best'],
    ]);
  });

  it('reads millimetres, one-key marks, words, ranks and fields left bare', () => {
    const [bitter, liking, words] = fields as [PaperField, PaperField, PaperField];
    expect(['0', '100', '37', '37,5', '-', ''].map((text) => mark(bitter, text))).toEqual([
      ...[0, 10, 3.7, 3.75],
      ...[null, 'open'],
    ]);
    expect(['101', '-1', 'x'].map((text) => mark(bitter, text))).toEqual(['fault', 'fault', 'fault']);
    expect(['7', '9', '10', '0', '1.5'].map((text) => mark(liking, text))).toEqual([
      ...[7, 9],
      ...['fault', 'fault', 'fault'],
    ]);
    expect(mark(words, ' like  pith ')).toBe('like  pith');
    expect(mark(fields.at(-1)!, '3')).toBe('fault');
    expect(fields.map(isOneKey).slice(0, 3)).toEqual([false, true, false]);
    expect(isOneKey({ ...bitter, question: ask('x', 'points', [0, 10]) })).toBe(false);
    expect(fieldHelp(liking)).toBe('1 to 9: dislike extremely to like extremely');
    expect(answersOf(fields, { '222 bitter': '50', '222 liking': 'x', '333 liking': '-' })).toEqual([
      { code: '222', question: 'bitter', value: 5 },
      { code: '333', question: 'liking', value: null },
    ]);
    expect([5, null, undefined].map((value) => shownOnPaper(bitter, value))).toEqual([
      '50 mm',
      'left bare',
      'not entered',
    ]);
  });

  it('ticks one cup of a set by its place, never the one to compare with', () => {
    const cups = ['444', '555', '666'].map((code, i) => ({ position: i + 1, code, mix: 'x', part: 1 }));
    const set = (form: Question['form']) =>
      paperFields({ assessor: 'A', cups }, [ask('c', form, [100, 999])]);
    const [triangle] = set('triangle');
    expect(triangle!.code).toBe('444');
    expect([mark(triangle!, '3'), mark(triangle!, '4')]).toEqual([666, 'fault']);
    const [duo] = set('duo-trio');
    expect([mark(duo!, '1'), mark(duo!, '3')]).toEqual([555, 'fault']);
  });
});

describe('a tray on the live page', () => {
  const at = Date.parse('2026-03-10T12:10:00.000Z');
  const calm: Live['trays'][number] = {
    assessor: 'Ann',
    mayTaste: true,
    cups: 6,
    filled: 2,
    at: 3,
    lastHeard: '2026-03-10T12:00:00.000Z',
    phones: 1,
    clashes: 0,
    late: 0,
    absent: false,
    gaps: [],
    quietFrom: '2026-03-10T12:15:00.000Z',
  };

  it('says where the taster is', () => {
    expect(standsAt(calm, true)).toBe('at cup 3 of 6');
    expect(standsAt({ ...calm, absent: true }, true)).toBe('did not come');
    expect(standsAt({ ...calm, filled: 6 }, true)).toBe('done');
    expect(standsAt({ ...calm, mayTaste: false, lastHeard: null }, true)).toBe('not heard of yet');
  });

  it('says what is worth a look, and nothing else', () => {
    expect(troublesOf(calm, at)).toEqual([]);
    expect(troublesOf({ ...calm, quietFrom: '2026-03-10T12:05:00.000Z' }, at)[0]).toMatch(
      /^Nothing heard for 10 minutes/,
    );
    const gaps = [{ code: '123', missing: 2 }];
    expect(troublesOf({ ...calm, gaps, phones: 2, clashes: 1, late: 3 }, at)).toEqual([
      'Missing: 2 marks of cup 123.',
      'Two phones with one link differ in 1 mark; the later one counts.',
      '3 answers came after the key was open: kept, not read.',
    ]);
  });
});

describe('a sitting that is drawn up', () => {
  const draft: SittingDraft = {
    label: ' Tuesday ',
    assessors: 'P1, P2',
    knowing: ['P1'],
    mixes: ['m1', 'm2'],
    replicates: '2',
    reference: true,
    warmup: true,
    asking: 'scores',
    of: '',
    stronger: '',
    alone: false,
    goBack: true,
    restSeconds: '120',
    longRestMinutes: '10',
  };

  it('counts its cups and is sent as its schema takes it', () => {
    expect(cupsEach(draft)).toBe(7);
    expect(sittingCare(draft, false)).toBeNull();
    expect(sittingCare(draft, true)).toMatch(/^6 cups for each: this taste lingers, 4 at a sitting/);
    const sent = SittingRequest.parse(requestOf(draft));
    expect(sent).toMatchObject({ label: 'Tuesday', restSeconds: 120, longRestSeconds: 600, goBack: true });
    expect(sent.test).toBeUndefined();
  });

  it('as a test is between two drinks, and a forced choice knows its stronger one', () => {
    const test: SittingDraft = { ...draft, asking: 'two-afc', mixes: ['m1'] };
    expect(sittingFault({ ...test, mixes: ['m1', 'm2'] })).toMatch(/between two drinks/);
    expect(sittingFault(test)).toMatch(/stronger/);
    expect(sittingFault({ ...test, stronger: 'm1' })).toMatch(/more of/);
    const ready = { ...test, stronger: 'm1', of: 'bitterness' };
    expect(sittingFault(ready)).toBeNull();
    expect(cupsEach(ready)).toBe(4);
    const sent = SittingRequest.parse(requestOf(ready));
    expect(sent.test).toEqual({ form: 'two-afc', of: 'bitterness', stronger: 'm1' });
    expect([sent.warmup, sent.alone]).toEqual([false, false]);
  });
});
