import type { ComponentChildren } from 'preact';
import type { MaterialView } from '../../../trials/schema/api.ts';
import { Field } from '../parts/field.tsx';
import { materialName, materialNamed, useMaterials } from './known-materials.ts';

interface MaterialFieldProps {
  label: string;
  value: string;
  change: (value: string) => void;
  materials: readonly MaterialView[];
}

/** A material by its name, with those of the shelf offered. */
export function MaterialField({ materials, ...field }: MaterialFieldProps) {
  return <Field {...field} offers={materials.map(({ name }) => name)} />;
}

interface ShortNameProps {
  label: ComponentChildren;
  /** The short name of a material, or whatever was typed. */
  value: string;
  change: (value: string) => void;
  fault: string | undefined;
  path: string;
  class?: string;
  help?: string;
}

/** A field that holds a material's short name and shows what it is called. */
export function MaterialByName({ value, change, ...field }: ShortNameProps) {
  const materials = useMaterials();
  return (
    <Field
      {...field}
      value={materialName(materials, value)}
      change={(typed) => change(materialNamed(materials, typed))}
      offers={materials.map(({ name }) => name)}
    />
  );
}
