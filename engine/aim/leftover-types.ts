/** What is left of an earlier bottle. */
export interface Leftover {
  blend: string;
  /** Mass of its components that is left, in grams. */
  grams: number;
  /** Its own shares as weighed, in the order of the space. */
  shares: readonly number[];
}

/** A leftover as the maker tells it. */
export interface LeftoverOnHand {
  blend: string;
  grams: number;
  /** Hours since it was weighed; null or absent where that is not known. */
  ageHours?: number | null | undefined;
}

/** How a proposal is made up from what is left, and what that saves. */
export interface FromLeftovers {
  /** What to pour from earlier bottles, in grams of their components. */
  pours: { mix: string; grams: number }[];
  /** What to add fresh, by component id; components that need nothing are left out. */
  fresh: Record<string, number>;
  /** What to put on the balance for the fresh part, where some component has stocks. */
  weigh?: { component: string; strength: number; grams: number }[];
  /** The shares that come out, by component id; as near to the proposal as the balance allows. */
  ratios: Record<string, number>;
  saves: {
    /** Fresh material, in grams. */
    grams: number;
    /** In the brief's money; null where a price is missing. */
    money: number | null;
    /** Weighings fewer than from fresh material alone; can be negative. */
    weighings: number;
  };
  says: string;
}
