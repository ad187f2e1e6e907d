import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

interface FieldProps {
  label: ComponentChildren;
  value: string;
  change: (value: string) => void;
  /** Says what is wrong with it. */
  fault?: string | undefined;
  help?: ComponentChildren;
  unit?: string;
  /** A number: right-aligned, with the number keys on a phone. */
  number?: boolean;
  class?: string;
  /** Where the field stands in the document it edits, so that a fault can lead to it. */
  path?: string;
  placeholder?: string;
  /** What may be chosen while typing; anything else may be typed too. */
  offers?: readonly string[];
}

/** One field: label, input, unit, help and fault tied together. */
export function Field({
  label,
  value,
  change,
  fault,
  help,
  unit,
  number,
  path,
  placeholder,
  offers,
  ...rest
}: FieldProps) {
  const id = useId();
  return (
    <div class={`field ${rest.class ?? ''}`}>
      <label for={id}>{label}</label>
      <div class="with-unit">
        <input
          id={id}
          class={number ? 'n' : undefined}
          placeholder={placeholder}
          list={offers === undefined ? undefined : `${id}-offers`}
          inputMode={number ? 'decimal' : 'text'}
          autoComplete="off"
          value={value}
          data-path={path}
          aria-invalid={fault === undefined ? undefined : true}
          aria-describedby={describedBy(id, fault, help)}
          onInput={(event) => change(event.currentTarget.value)}
        />
        {unit !== undefined && <span class="unit">{unit}</span>}
        {offers !== undefined && (
          <datalist id={`${id}-offers`}>
            {offers.map((offer) => (
              <option key={offer} value={offer} />
            ))}
          </datalist>
        )}
      </div>
      <Below id={id} fault={fault} help={help} />
    </div>
  );
}

interface ChoiceProps {
  label: ComponentChildren;
  value: string;
  change: (value: string) => void;
  options: readonly (readonly [value: string, says: string])[];
  fault?: string | undefined;
  help?: ComponentChildren;
  class?: string;
  path?: string;
}

interface SearchProps {
  label: string;
  value: string;
  change: (value: string) => void;
}

/** A field to search with; the key / leads to it. */
export function SearchField({ label, value, change }: SearchProps) {
  const id = useId();
  return (
    <div class="field narrow">
      <label for={id}>{label}</label>
      <input id={id} type="search" value={value} onInput={(event) => change(event.currentTarget.value)} />
    </div>
  );
}

/** One choice out of a few. */
export function Choice({ label, value, change, options, fault, help, path, ...rest }: ChoiceProps) {
  const id = useId();
  return (
    <div class={`field ${rest.class ?? ''}`}>
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value}
        data-path={path}
        aria-invalid={fault === undefined ? undefined : true}
        aria-describedby={describedBy(id, fault, help)}
        onChange={(event) => change(event.currentTarget.value)}
      >
        {options.map(([option, says]) => (
          <option key={option} value={option}>
            {says}
          </option>
        ))}
      </select>
      <Below id={id} fault={fault} help={help} />
    </div>
  );
}

interface CheckProps {
  checked: boolean;
  change: (checked: boolean) => void;
  children: ComponentChildren;
}

/** A box to tick. */
export function Check({ checked, change, children }: CheckProps) {
  return (
    <label class="check">
      <input type="checkbox" checked={checked} onChange={(event) => change(event.currentTarget.checked)} />
      <span>{children}</span>
    </label>
  );
}

interface TextProps {
  label: ComponentChildren;
  value: string;
  change: (value: string) => void;
  fault?: string | undefined;
  help?: ComponentChildren;
  path?: string;
}

/** Several lines of text. */
export function LongText({ label, value, change, fault, help, path }: TextProps) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <textarea
        id={id}
        value={value}
        data-path={path}
        aria-invalid={fault === undefined ? undefined : true}
        aria-describedby={describedBy(id, fault, help)}
        onInput={(event) => change(event.currentTarget.value)}
      />
      <Below id={id} fault={fault} help={help} />
    </div>
  );
}

function Below({ id, fault, help }: { id: string; fault: string | undefined; help: ComponentChildren }) {
  return (
    <>
      {fault !== undefined && (
        <p class="fault" id={`${id}-fault`}>
          {fault}
        </p>
      )}
      {help !== undefined && (
        <p class="help" id={`${id}-help`}>
          {help}
        </p>
      )}
    </>
  );
}

function describedBy(id: string, fault: string | undefined, help: ComponentChildren): string | undefined {
  const ids = [fault === undefined ? '' : `${id}-fault`, help === undefined ? '' : `${id}-help`];
  return ids.filter((one) => one !== '').join(' ') || undefined;
}
