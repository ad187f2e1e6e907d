import type { ComponentProps } from 'preact';
import { Field } from '../parts/field.tsx';

/** What a gram costs; the shelf converts no money. */
export function PriceField(props: Pick<ComponentProps<typeof Field>, 'value' | 'change'>) {
  return <Field label="Price" unit="a gram" number {...props} help="in the currency of your briefs" />;
}
