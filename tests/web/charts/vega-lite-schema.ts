import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

/** The parts of JSON Schema (draft 7) that Vega-Lite's published schema uses. */
interface Schema {
  $ref?: string;
  anyOf?: Schema[];
  type?: string | string[];
  enum?: unknown[];
  const?: unknown;
  properties?: Record<string, Schema>;
  patternProperties?: Record<string, Schema>;
  additionalProperties?: boolean | Schema;
  required?: string[];
  items?: Schema | Schema[];
  minItems?: number;
  maxItems?: number;
  not?: Schema;
  definitions?: Record<string, Schema>;
}

const file = createRequire(import.meta.url).resolve('vega-lite/vega-lite-schema.json');
const root = JSON.parse(readFileSync(file, 'utf8')) as Schema;

/** What is wrong with a specification by Vega-Lite's own schema; empty where it is valid. */
export function schemaFaults(spec: unknown): string[] {
  return faultsOf(root, JSON.parse(JSON.stringify(spec)), '$').slice(0, 5);
}

function faultsOf(schema: Schema, value: unknown, at: string): string[] {
  if (schema.$ref !== undefined) return faultsOf(definition(schema.$ref), value, at);
  if (schema.anyOf !== undefined) return nearest(schema.anyOf, value, at);
  if (schema.const !== undefined && value !== schema.const) return [`${at}: not ${String(schema.const)}`];
  if (schema.enum !== undefined && !schema.enum.includes(value))
    return [`${at}: ${String(value)} is not one of the allowed`];
  if (schema.type !== undefined && ![schema.type].flat().some((type) => isOf(type, value)))
    return [`${at}: not ${String(schema.type)}`];
  if (Array.isArray(value)) return arrayFaults(schema, value, at);
  if (typeof value === 'object' && value !== null)
    return objectFaults(schema, value as Record<string, unknown>, at);
  return [];
}

function definition(ref: string): Schema {
  const name = decodeURIComponent(ref.replace('#/definitions/', ''));
  const found = root.definitions?.[name];
  if (found === undefined) throw new Error(`no definition ${name}`);
  return found;
}

/** Of several alternatives the faults of the one that came furthest. */
function nearest(alternatives: readonly Schema[], value: unknown, at: string): string[] {
  let best: string[] | null = null;
  for (const one of alternatives) {
    const faults = faultsOf(one, value, at);
    if (faults.length === 0) return [];
    if (best === null || depth(faults) > depth(best)) best = faults;
  }
  return best ?? [];
}

function depth(faults: readonly string[]): number {
  return Math.max(...faults.map((fault) => fault.split(/[.[]/).length));
}

function isOf(type: string, value: unknown): boolean {
  if (type === 'null') return value === null;
  if (type === 'array') return Array.isArray(value);
  if (type === 'object') return typeof value === 'object' && value !== null && !Array.isArray(value);
  if (type === 'integer') return Number.isInteger(value);
  return typeof value === type;
}

function arrayFaults(schema: Schema, value: readonly unknown[], at: string): string[] {
  const { items, minItems = 0, maxItems = Number.POSITIVE_INFINITY } = schema;
  if (value.length < minItems || value.length > maxItems) return [`${at}: ${value.length} entries`];
  if (items === undefined) return [];
  return value.flatMap((entry, i) => {
    const own = Array.isArray(items) ? items[i] : items;
    return own === undefined ? [] : faultsOf(own, entry, `${at}[${i}]`);
  });
}

function objectFaults(schema: Schema, value: Record<string, unknown>, at: string): string[] {
  const { properties = {}, additionalProperties = true, required = [] } = schema;
  const missing = required.filter((key) => !Object.hasOwn(value, key)).map((key) => `${at}.${key}: missing`);
  const inside = Object.entries(value).flatMap(([key, entry]) => {
    const own = Object.hasOwn(properties, key) ? properties[key] : undefined;
    if (own !== undefined) return faultsOf(own, entry, `${at}.${key}`);
    if (additionalProperties === false) return [`${at}.${key}: unknown`];
    return typeof additionalProperties === 'object'
      ? faultsOf(additionalProperties, entry, `${at}.${key}`)
      : [];
  });
  return [...missing, ...inside];
}
