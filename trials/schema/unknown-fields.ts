import { z } from 'zod';
import type { JsonPath } from './schema-faults.ts';

/** Paths of fields that a schema does not know: they are passed over, and said so. */
export function unknownFields(schema: unknown, value: unknown, path: JsonPath = []): JsonPath[] {
  const inner = unwrap(schema);
  if (inner instanceof z.ZodArray && Array.isArray(value))
    return value.flatMap((entry, index) => unknownFields(inner.element, entry, [...path, index]));
  if (inner instanceof z.ZodUnion)
    return isPlain(value)
      ? unknownFields(
          inner.options.find((option) => option instanceof z.ZodObject),
          value,
          path,
        )
      : [];
  if (!(inner instanceof z.ZodObject) || !isPlain(value)) return [];
  const shape: Record<string, unknown> = inner.shape;
  return Object.keys(value).flatMap((key) =>
    Object.hasOwn(shape, key) ? unknownFields(shape[key], value[key], [...path, key]) : [[...path, key]],
  );
}

function unwrap(schema: unknown): unknown {
  let inner = schema;
  while (inner instanceof z.ZodDefault || inner instanceof z.ZodOptional || inner instanceof z.ZodNullable)
    inner = inner.unwrap();
  return inner;
}

function isPlain(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
