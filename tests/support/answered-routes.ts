import { expect } from 'vitest';
import type { RouteName } from '../../trials/schema/api.ts';
import type { Asked, Workbench } from './workbench.ts';

const STATUS: Readonly<Record<string, number>> = {
  'bad-input': 400,
  'not-allowed': 403,
  'not-found': 404,
  conflict: 409,
  'too-large': 413,
};

/** Calls routes of a workbench and remembers which were answered, so that a test can say that none was left out. */
export function answeredRoutes({ ask }: Pick<Workbench, 'ask'>) {
  const asked = new Set<RouteName>();
  return {
    asked,
    answered: async (name: RouteName, given: Asked = {}) => {
      const reply = await ask(name, given);
      expect([name, reply.status, reply.status === 200 ? null : reply.body]).toEqual([name, 200, null]);
      asked.add(name);
      return reply.body;
    },
    refused: async (name: RouteName, given: Asked, code: string) => {
      const { status, body } = await ask(name, given);
      expect([name, body.error?.code]).toEqual([name, code]);
      expect(status).toBe(STATUS[code]);
      return body.error;
    },
  };
}
