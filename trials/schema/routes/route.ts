import { z } from 'zod';
import type { AnswerBatch, AnswerReceipt, BallotView, ConsentMessage, ProgressMessage } from '../ballot.ts';
import { Name } from '../brief.ts';

/** Who may call a route. `anyone` needs no right at all; a taster's token reaches its own ballot only. */
export type Role = 'maker' | 'pourer' | 'taster' | 'anyone';

/** One row of the route table. */
export interface Route {
  method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  path: string;
  roles: readonly Role[];
  params?: z.ZodObject;
  body?: z.ZodType | typeof AnswerBatch | typeof ConsentMessage | typeof ProgressMessage;
  answer: z.ZodType | typeof BallotView | typeof AnswerReceipt;
  /** True where the answer is a stream of server-sent events, each holding `answer`. */
  stream?: boolean;
  says: string;
}

export const maker: readonly Role[] = ['maker'];
export const pourer: readonly Role[] = ['maker', 'pourer'];
export const taster: readonly Role[] = ['taster'];

export const trialPath = z.object({ trial: z.string() });
export const roundPath = trialPath.extend({ round: z.coerce.number().int().min(1) });
export const mixPath = roundPath.extend({ mix: Name });
export const sittingPath = trialPath.extend({ sitting: z.string() });

/** The answer of what has nothing else to say. */
export const ok = z.object({ done: z.literal(true) });
