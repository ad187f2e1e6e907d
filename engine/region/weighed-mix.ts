/** One mix as weighed: shares of the blend in the order of the space, settings in their natural units. */
export interface WeighedMix {
  mix: string;
  /** Mixes that share a blend came out of one bottle. */
  blend: string;
  shares: readonly number[];
  settings: readonly number[];
  round?: string | undefined;
}
