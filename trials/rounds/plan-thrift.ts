import type { Thrift, ThriftTold } from '../../engine/design/plan-types.ts';
import { EngineError } from '../../engine/errors.ts';
import type { Brief } from '../schema/brief.ts';
import { byId } from '../schema/engine-shapes.ts';
import { amount, money } from '../schema/money.ts';
import type { ThriftShown } from '../schema/plan-document.ts';

/** How thrift is asked for. */
export interface ThriftAsked {
  /** Part of the knowledge that may be lost for a cheaper plan. */
  thrift?: number | undefined;
  /** Components to be spared, gram for gram, instead of money. */
  spare?: readonly string[] | undefined;
}

/**
 * What a gram of each component counts: one for those to be spared, else its price.
 *
 * @throws EngineError `bad-argument` where nothing is priced, or an unknown component is to be spared
 */
export function thriftFor({ components }: Brief, { thrift, spare = [] }: ThriftAsked): Thrift | undefined {
  if (thrift === undefined && spare.length > 0)
    throw new EngineError('bad-argument', 'spare', spare.join(', '), 'a component only beside thrift');
  if (thrift === undefined) return undefined;
  const ids = components.map(({ id }) => id);
  const stranger = spare.find((id) => !ids.includes(id));
  if (stranger !== undefined) throw new EngineError('bad-argument', 'spare', stranger, ids.join(', '));
  const prices =
    spare.length > 0
      ? Object.fromEntries(spare.map((id) => [id, 1]))
      : byId(components, ({ pricePerGram }) => pricePerGram ?? 0);
  if (!Object.values(prices).some((price) => price > 0))
    throw new EngineError(
      'bad-argument',
      'thrift',
      thrift,
      'a pricePerGram in the brief, or a component to spare',
    );
  return { loss: thrift, prices };
}

/** What thrift came to, in a sentence. */
export function thriftShown(
  { components, currency }: Brief,
  told: ThriftTold,
  { spare = [] }: ThriftAsked,
): ThriftShown {
  const { lost, costBefore, cost, spared } = told;
  const of = spare.length > 0 ? 'grams' : 'money';
  const knowledge = `${Number((100 * lost).toPrecision(2))} % of the knowledge`;
  if (costBefore - cost < 1e-9)
    return { ...told, of, says: 'No cheaper plan was found that loses so little knowledge.' };
  const what =
    of === 'grams'
      ? `${spare.map((id) => `${Number(spared[id]!.toPrecision(3))} g less of ${id}`).join(' and ')}, for`
      : `Costs ${amount(cost)} instead of ${money(costBefore, currency)} (${gramsLess(components, spared)}), for`;
  return { ...told, of, says: `${what} ${knowledge}.` };
}

function gramsLess(components: Brief['components'], spared: Readonly<Record<string, number>>): string {
  const less = components.filter(({ id, pricePerGram }) => pricePerGram !== undefined && spared[id]! > 1e-9);
  return less.map(({ id }) => `${Number(spared[id]!.toPrecision(3))} g less of ${id}`).join(', ');
}
