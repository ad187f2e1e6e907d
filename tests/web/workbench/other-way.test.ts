import { describe, expect, it } from 'vitest';
import { setOff } from '../../../web/workbench/parts/other-way.ts';

describe('what is written from right to left', () => {
  it('is set off, so that what follows a name stays behind it', () => {
    expect(setOff('مرارة في الحلق: 21 in 100')).toBe('\u2068مرارة في الحلق\u2069: 21 in 100');
    expect(setOff('With more זנגביל, less ורד.')).toBe('With more \u2068זנגביל\u2069, less \u2068ורד\u2069.');
  });

  it('leaves everything else as it is', () => {
    for (const text of ['Bitter: 21 in 100', '口の中', '', 'Ж é ñ']) expect(setOff(text)).toBe(text);
  });
});
