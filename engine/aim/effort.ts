/** How widely a search for the next mixes looks. */
export interface Effort {
  /** Recipes spread over the whole region. */
  spread: number;
  /** The best of them around which it looks again, and how many neighbours each gets. */
  starts: number;
  neighbours: number;
  /** Recipes that might be recommended, that might turn out nearest, and that merely spread over the region. */
  finalists: number;
  hopeful: number;
  cover: number;
  /** Joint draws that candidates are compared on. */
  draws: number;
}

/** For the mixes that will really be made; the figures are those the simulated worlds were played with. */
export const WHOLE_EFFORT: Effort = {
  spread: 1200,
  starts: 6,
  neighbours: 40,
  finalists: 60,
  hopeful: 110,
  cover: 30,
  draws: 256,
};

/** For a rehearsal, which plays many searches: the same method on fewer candidates and draws. */
export const LIGHT_EFFORT: Effort = {
  spread: 240,
  starts: 3,
  neighbours: 24,
  finalists: 24,
  hopeful: 24,
  cover: 12,
  draws: 96,
};
