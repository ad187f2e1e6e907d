import { type LikingAgreement, likingAgreement } from './liking-agreement.ts';

/** Estimated means of the mixes on one attribute. */
export interface MeansOf {
  id: string;
  means: readonly { mix: string; mean: number }[];
}

/** With which attributes liking rises and falls over the mixes. */
export interface LikingReading {
  /** The question about liking. */
  of: string;
  with: (LikingAgreement & { id: string })[];
}

/** Liking against every other attribute, by the estimated means of the mixes; beside `likingAgreement`. */
export function likingWith(readings: readonly MeansOf[], of: string): LikingReading {
  const liking = readings.find(({ id }) => id === of)!;
  const means = ({ means: list }: MeansOf) => new Map(list.map(({ mix, mean }) => [mix, mean]));
  const own = means(liking);
  const mixes = [...own.keys()];
  return {
    of,
    with: readings
      .filter(({ id }) => id !== of)
      .map((other) => {
        const theirs = means(other);
        const agreement = likingAgreement(
          mixes.map((mix) => own.get(mix) ?? null),
          mixes.map((mix) => theirs.get(mix) ?? null),
        );
        return { id: other.id, ...agreement };
      }),
  };
}
