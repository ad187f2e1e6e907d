/** How many rungs a ladder of doses may have: fewer tell nothing, more tire the tongue. Common practice, no published source. */
export const LEAST_RUNGS = 3;
export const MOST_RUNGS = 10;
