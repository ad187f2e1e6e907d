import { useRef } from 'preact/hooks';
import { fieldHelp, isOneKey, type PaperField, readTyped } from './paper-fields.ts';

interface FormProps {
  fields: readonly PaperField[];
  typed: Readonly<Record<string, string>>;
  change: (typed: Readonly<Record<string, string>>) => void;
  /** Enter on the last field. */
  done: () => void;
}

/**
 * All fields of a ballot in the order of the paper. A key that is a whole mark leads on by itself, Enter leads on
 * from every other, so that one hand holds the paper.
 */
export function PaperFields({ fields, typed, change, done }: FormProps) {
  const list = useRef<HTMLOListElement>(null);
  const leadTo = (index: number) => {
    const inputs = list.current?.querySelectorAll('input');
    const next = inputs?.[index];
    next?.focus();
    next?.select();
  };
  const type = (index: number, text: string) => {
    const field = fields[index]!;
    change({ ...typed, [field.key]: text });
    const whole = text === '-' || (isOneKey(field) && readTyped(field, text).state === 'mark');
    if (whole) leadTo(index + 1);
  };
  const press = (index: number, event: KeyboardEvent) => {
    if (event.key !== 'Enter' && event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return;
    event.preventDefault();
    if (event.key === 'Enter' && index === fields.length - 1) done();
    else leadTo(event.key === 'ArrowUp' ? index - 1 : index + 1);
  };
  return (
    <>
      <p class="soft">
        One field after the other as on the paper. Enter leads on; a single figure leads on by itself, and so
        does a hyphen for a field left bare; leave out what the paper does not tell.
      </p>
      <ol class="paper-marks" ref={list}>
        {fields.map((field, index) => (
          <PaperLine
            key={field.key}
            field={field}
            first={index === 0 || fields[index - 1]!.code !== field.code}
            text={typed[field.key] ?? ''}
            type={(text) => type(index, text)}
            press={(event) => press(index, event)}
          />
        ))}
      </ol>
    </>
  );
}

interface LineProps {
  field: PaperField;
  /** The first of its cup. */
  first: boolean;
  text: string;
  type: (text: string) => void;
  press: (event: KeyboardEvent) => void;
}

function PaperLine({ field, first, text, type, press }: LineProps) {
  const read = readTyped(field, text);
  const id = `paper-${field.key.replace(/[^\w-]/g, '-')}`;
  const fault = read.state === 'fault' ? read.says : null;
  return (
    <li class={first ? 'cup-begins' : undefined}>
      <span class="cup-code number">{first ? field.code : ''}</span>
      <label for={id}>
        {field.question.name || 'Which cup'}
        <span class="unseen">, cup {field.code}</span>
      </label>
      <input
        id={id}
        class="n"
        value={text}
        inputMode={field.question.form === 'describe' ? 'text' : 'decimal'}
        autoComplete="off"
        aria-invalid={fault === null ? undefined : true}
        aria-describedby={`${id}-help`}
        onInput={(event) => type(event.currentTarget.value)}
        onKeyDown={press}
      />
      <span class={fault === null ? 'soft small' : 'fault small'} id={`${id}-help`}>
        {fault ?? fieldHelp(field)}
      </span>
    </li>
  );
}
