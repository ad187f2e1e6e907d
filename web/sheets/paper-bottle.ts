/** A bottle to be weighed, as the sheets need it. */
export interface PaperBottle {
  blend: string;
  /** Mixes that are poured from it. */
  mixes: readonly string[];
  lines: readonly { id: string; name: string; planned: number }[];
}
