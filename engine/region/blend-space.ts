/** A component's allowed share of the blend. */
export interface ComponentRange {
  id: string;
  low: number;
  high: number;
}

/** `least` ≤ Σ of[id]·share(id) ≤ `most`; an absent side is open. */
export interface ShareBound {
  of: Readonly<Record<string, number>>;
  least?: number | undefined;
  most?: number | undefined;
}

/**
 * Something varied beside the blend, in its natural unit. `acts` says how it enters a model: crossed with each
 * component (`each`) or as one term of its own (`whole`).
 */
export interface SettingRange {
  id: string;
  low: number;
  high: number;
  acts: 'each' | 'whole';
}

/** What may be mixed: shares of 2 to 12 components that sum to 1, within bounds, and 0 to 4 settings. */
export interface BlendSpace {
  components: readonly ComponentRange[];
  bounds: readonly ShareBound[];
  settings: readonly SettingRange[];
}

/** A setting's value coded to -1..1 over its range; a setting that does not vary is coded 0. */
export function codeSetting(setting: SettingRange, value: number): number {
  const half = (setting.high - setting.low) / 2;
  return half > 0 ? (value - setting.low - half) / half : 0;
}

/** The inverse of `codeSetting`. */
export function decodeSetting(setting: SettingRange, coded: number): number {
  const half = (setting.high - setting.low) / 2;
  return setting.low + half + coded * half;
}
