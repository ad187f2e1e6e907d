import type { SettingRange } from '../region/blend-space.ts';

/**
 * The step in which a setting is offered: 1, 2 or 5 times a power of ten, near a twentieth of its range, so that
 * nobody is asked for 0.2467 mL. Common practice, no published source.
 */
export function settingStep({ low, high }: SettingRange): number {
  const wanted = (high - low) / 20;
  if (!(wanted > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(wanted));
  const [step] = [1, 2, 5, 10]
    .map((times) => times * power)
    .sort((a, b) => Math.abs(Math.log(a / wanted)) - Math.abs(Math.log(b / wanted)));
  return step!;
}

/** The nearest offered value inside the range; its two ends are always offered. */
export function offeredSetting(setting: SettingRange, value: number): number {
  const step = settingStep(setting);
  const inside = Math.min(setting.high, Math.max(setting.low, value));
  const stepped = Math.round(inside / step) * step;
  const options = [setting.low, setting.high, stepped].filter((v) => v >= setting.low && v <= setting.high);
  const nearest = options.sort((a, b) => Math.abs(a - inside) - Math.abs(b - inside))[0]!;
  return Number(nearest.toPrecision(12));
}
