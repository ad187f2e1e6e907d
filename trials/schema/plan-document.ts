import type { Rehearsal } from '../../engine/aim/rehearsal/rehearse.ts';
import type { PlanPrice } from '../../engine/design/plan-price.ts';
import type { PlanResult, ThriftTold } from '../../engine/design/plan-types.ts';
import type { SmallerBatch } from '../../engine/design/smallest-batch.ts';
import type { Noise } from '../../engine/design/smallest-shift.ts';

/** Noise of an attribute, in scale units, and where it is known from. */
export interface KnownNoise extends Noise {
  from: 'stated' | 'fit' | 'assumed';
}

/** The smallest difference of two mixes that the panel would notice four times in five. */
export interface NoticedShift {
  attribute: string;
  shift: number;
  noise: KnownNoise;
}

/** What a plan takes and what it would let this panel notice. */
export interface WeighedUp {
  price: PlanPrice;
  shifts: NoticedShift[];
  hiddenDuplicate: { mix: string; cups: number; why: string } | null;
  smallerBatch:
    | (Omit<SmallerBatch, 'stocks'> & { stocks: { component: string; strength: number }[]; says: string })
    | null;
}

/** A size of plan, priced before it is searched in full. */
export interface PlanOffer {
  offer: 'one-evening' | 'two-evenings' | 'in-depth';
  mixes: number;
  price: PlanPrice;
  averageVariance: number;
  shifts: NoticedShift[];
}

export interface PlanOffers {
  offers: PlanOffer[];
  /** Knowledge against the number of mixes, in one model for all. */
  knowledge: { mixes: number; averageVariance: number; shifts: number[] }[];
  /** That model. */
  comparedIn: string;
  /** The plan itself, as it can be weighed, judged in that model too; null where it cannot settle its terms. */
  among: { mixes: number; averageVariance: number; shifts: NoticedShift[] } | null;
}

/** A cheaper plan than the one that knows most: what is saved, and what is lost for it. */
export interface ThriftShown extends ThriftTold {
  /** Whether the cost is money or grams of what is to be spared. */
  of: 'money' | 'grams';
  says: string;
}

/** What `plan` prints and the workbench stores. */
export interface PlanDocument extends Omit<PlanResult, 'basis' | 'thrift'>, WeighedUp, Partial<PlanOffers> {
  thrift?: ThriftShown | undefined;
  /** Given with a comparison. */
  basis?: PlanResult['basis'];
  /** How often the target would be found, where a rehearsal was asked for; mixes of each later round beside it. */
  rehearsal?: Rehearsal & { each: number };
  seed?: number;
  version: string;
}
