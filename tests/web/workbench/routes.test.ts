import { describe, expect, it } from 'vitest';
import { printAddress, readPlace, stepAddress, trialAddress } from '../../../web/workbench/routes.ts';

describe('addresses of the workbench', () => {
  it('lead back to the place they were made for, whatever the trial is called', () => {
    for (const trial of ['demo', 'a b/c', '100 %', '__proto__', 'ü?&#']) {
      expect(readPlace(trialAddress(trial))).toMatchObject({ page: 'trial', trial, at: 'story' });
      expect(readPlace(trialAddress(trial, 'next', { reading: 'next-1' }))).toMatchObject({
        trial,
        at: 'next',
      });
      const step = readPlace(stepAddress(trial, 3, 'weigh', { bottle: 'm 1&2' }));
      expect(step).toMatchObject({ page: 'step', trial, round: 3, step: 'weigh' });
      expect('query' in step && step.query.get('bottle')).toBe('m 1&2');
      expect(readPlace(printAddress(trial, 'pouring', { sitting: 's1' }))).toMatchObject({
        trial,
        sheet: 'pouring',
      });
    }
  });

  it('lead to the list of trials when they are empty', () => {
    for (const hash of ['', '#', '#/']) expect(readPlace(hash)).toEqual({ page: 'trials' });
  });

  it('that lead nowhere say so', () => {
    for (const hash of [
      '#/trails/x',
      '#/trials',
      '#/trials/x/rounds/0/weigh',
      '#/trials/x/rounds/1/sip',
      '#/trials/x/print/poster',
      '#/new/2',
    ])
      expect(readPlace(hash)).toMatchObject({ page: 'unknown' });
  });

  it('survive a broken escape', () => {
    expect(readPlace('#/trials/%E0%A4%A')).toMatchObject({ page: 'trial', trial: '%E0%A4%A' });
  });
});
