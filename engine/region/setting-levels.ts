import { codeSetting, type SettingRange } from './blend-space.ts';

/**
 * Values at which a setting is planned, as coded -1 to 1: its two ends and, between them, multiples of 1, 2 or 5
 * times a power of ten, about twenty over the range, so that nobody is asked for 0.2467 mL. Common practice, no
 * published source.
 */
export function settingLevels(setting: SettingRange): { values: number[]; coded: number[] } {
  const { low, high } = setting;
  if (!(high > low)) return { values: [low], coded: [0] };
  const step = roundStep((high - low) / 20);
  const values = [low];
  for (let k = Math.floor(low / step) + 1; k * step < high - step / 1000; k++) {
    const value = Number((k * step).toPrecision(12));
    if (value > low + step / 1000) values.push(value);
  }
  values.push(high);
  return { values, coded: values.map((v) => codeSetting(setting, v)) };
}

/** The nearest, by ratio, of 1, 2 and 5 times a power of ten. */
function roundStep(wanted: number): number {
  const power = 10 ** Math.floor(Math.log10(wanted));
  const steps = [1, 2, 5, 10].map((times) => times * power);
  return steps.reduce((best, s) =>
    Math.abs(Math.log(s / wanted)) < Math.abs(Math.log(best / wanted)) ? s : best,
  );
}
