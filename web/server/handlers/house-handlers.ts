import { notFound } from '../../../trials/rounds/refusal.ts';
import { hashToken } from '../../../trials/rounds/tokens.ts';
import { VERSION } from '../../../trials/rounds/version.ts';
import { ApiError } from '../api-error.ts';
import { giveCookie, takeCookie } from '../cookie.ts';
import type { Handlers } from '../handler.ts';
import type { House } from '../house.ts';
import { openApi } from '../open-api.ts';
import { isPasscode } from '../passcode.ts';

type Names =
  | 'health'
  | 'me'
  | 'openapi'
  | 'enter'
  | 'enterToPour'
  | 'leave'
  | 'listBackups'
  | 'makeBackup'
  | 'restoreBackup';

/** The house itself: who comes in, copies of the data, what there is. */
export function houseHandlers(house: House): Pick<Handlers, Names> {
  return { ...doorHandlers(house), ...copyHandlers(house) };
}

function doorHandlers(house: House): Pick<Handlers, Exclude<Names, CopyNames>> {
  const { configuration } = house;
  return {
    health: () => ({ version: VERSION }),
    me: ({ caller }) => {
      const place = caller.seat ?? caller.pouring;
      const sitting = place && { trial: place.trial, sitting: place.sitting };
      const secret = configuration.secure !== null || !configuration.shared;
      return { role: caller.role, shared: configuration.shared, sitting, secret };
    },
    openapi: () => openApi(),
    enter: async ({ body, request, response }) => {
      if (!(await isPasscode(house.store, body.passcode)))
        throw new ApiError('not-allowed', 'that is not the passcode');
      giveCookie(house, { request, response }, { role: 'maker', trial: null, sitting: null });
      return { done: true };
    },
    enterToPour: ({ body, request, response }) => {
      const link = house.store.access.pourerLink(hashToken(body.token));
      if (link === null) throw new ApiError('not-allowed', 'this link is not known here');
      giveCookie(house, { request, response }, { role: 'pourer', ...link });
      return link;
    },
    leave: ({ request, response }) => {
      takeCookie(house, request, response);
      return { done: true };
    },
  };
}

type CopyNames = 'listBackups' | 'makeBackup' | 'restoreBackup';

function copyHandlers(house: House): Pick<Handlers, CopyNames> {
  const shown = ({ name, at, bytes }: { name: string; at: string; bytes: number }) => ({
    backup: name,
    at,
    bytes,
  });
  const act = (what: string, detail: string) =>
    house.store.acts.add(null, { at: house.now().toISOString(), who: 'maker', act: what, detail });
  return {
    listBackups: () => house.store.copies.list().map(shown),
    makeBackup: async () => {
      const copy = await house.store.copies.keep('backup', house.now());
      act('copied the data', copy.name);
      return shown(copy);
    },
    restoreBackup: async ({ params }) => {
      const file = house.store.copies.find(params.backup);
      if (file === null) throw notFound('this copy');
      const kept = await house.store.copies.putBack(file, house.now());
      act('restored a copy', `${params.backup}; what was there is in ${kept.name}`);
      house.bell.ringAll();
      return shown(kept);
    },
  };
}
