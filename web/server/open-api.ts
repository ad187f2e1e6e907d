import { toJSONSchema } from 'zod';
import type { $ZodType } from 'zod/v4/core';
import { VERSION } from '../../trials/rounds/version.ts';
import { ErrorAnswer, ROUTES } from '../../trials/schema/api.ts';
import { BALLOT_HEADER } from './caller.ts';

interface AnyRoute {
  method: string;
  path: string;
  roles: readonly string[];
  params?: { shape: Record<string, $ZodType> };
  body?: $ZodType;
  answer: $ZodType;
  stream?: boolean;
  says: string;
}

/** This interface as an OpenAPI 3.1 document, made from the route table. */
export function openApi(): Record<string, unknown> {
  const paths: Record<string, Record<string, unknown>> = {};
  for (const [name, row] of Object.entries(ROUTES)) {
    const route = row as unknown as AnyRoute;
    const path = route.path.replace(/:(\w+)/g, '{$1}');
    paths[path] = { ...paths[path], [route.method.toLowerCase()]: operation(name, route) };
  }
  return {
    openapi: '3.1.0',
    info: { title: 'Dropwise', version: VERSION },
    paths,
    components: {
      schemas: { Refused: schemaOf(ErrorAnswer, 'output') },
      securitySchemes: {
        cookie: { type: 'apiKey', in: 'cookie', name: 'dropwise-<port>' },
        ballot: { type: 'apiKey', in: 'header', name: BALLOT_HEADER },
      },
    },
  };
}

function operation(name: string, route: AnyRoute): Record<string, unknown> {
  const kind = route.stream ? 'text/event-stream' : 'application/json';
  const security = route.roles.includes('anyone')
    ? []
    : [route.roles.includes('taster') ? { ballot: [] } : { cookie: [] }];
  return {
    operationId: name,
    summary: route.says,
    'x-roles': route.roles,
    security,
    parameters: parametersOf(route),
    ...(route.body
      ? {
          requestBody: {
            required: true,
            content: { 'application/json': { schema: schemaOf(route.body, 'input') } },
          },
        }
      : {}),
    responses: {
      200: { description: route.says, content: { [kind]: { schema: schemaOf(route.answer, 'output') } } },
      default: {
        description: 'refused',
        content: { 'application/json': { schema: { $ref: '#/components/schemas/Refused' } } },
      },
    },
  };
}

function parametersOf({ path, params }: AnyRoute): object[] {
  return [...path.matchAll(/:(\w+)/g)].map(([, name]) => ({
    name,
    in: 'path',
    required: true,
    schema: params ? schemaOf(params.shape[name!]!, 'output') : { type: 'string' },
  }));
}

function schemaOf(schema: $ZodType, io: 'input' | 'output'): Record<string, unknown> {
  const { $schema: _, ...rest } = toJSONSchema(schema, { io, unrepresentable: 'any' }) as Record<
    string,
    unknown
  >;
  return rest;
}
