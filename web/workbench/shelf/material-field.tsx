import { useId } from 'preact/hooks';
import type { MaterialView } from '../../../trials/schema/api.ts';

interface MaterialFieldProps {
  label: string;
  value: string;
  change: (value: string) => void;
  materials: readonly MaterialView[];
}

/** A material by its name, with those of the shelf offered. */
export function MaterialField({ label, value, change, materials }: MaterialFieldProps) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        list={`${id}-list`}
        autoComplete="off"
        value={value}
        onInput={(event) => change(event.currentTarget.value)}
      />
      <datalist id={`${id}-list`}>
        {materials.map(({ material, name }) => (
          <option key={material} value={name} />
        ))}
      </datalist>
    </div>
  );
}
