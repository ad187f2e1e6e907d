/** What is left of an earlier bottle: its own shares as weighed, and how much of the mass of its components. */
export interface Leftover {
  mix: string;
  grams: number;
  shares: readonly number[];
}

/** How a proposal is made up from what is left, and what that saves. */
export interface FromLeftovers {
  /** What to pour from earlier bottles, in grams of their components. */
  pours: { mix: string; grams: number }[];
  /** What to add fresh, by component id; components that need nothing are left out. */
  fresh: Record<string, number>;
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
