import type { Request } from 'express';
import { renderSVG } from 'uqr';
import type { House } from './house.ts';

/** An address to hand out and its square code to scan. */
export interface Link {
  address: string;
  qr: string;
}

/** A taster's link: the token stands behind the `#`, which browsers never send. */
export function ballotLink(house: House, request: Request, token: string): Link {
  return linkTo(`${baseOf(house, request)}/ballot.html#${token}`);
}

/** A link to one sitting's pouring page. */
export function pouringLink(house: House, request: Request, token: string): Link {
  return linkTo(`${baseOf(house, request)}/#/pour/${token}`);
}

/** What opens one version of a trial's card. */
export function cardLink(house: House, request: Request, trial: string, version: number): Link {
  return linkTo(
    `${baseOf(house, request)}/#/trials/${encodeURIComponent(trial)}/print/card?version=${version}`,
  );
}

function linkTo(address: string): Link {
  return { address, qr: renderSVG(address, { border: 2 }) };
}

/** The address the maker came by, unless phones could not use it and there is one that they can. */
function baseOf({ addresses, configuration }: House, request: Request): string {
  const own = `${request.protocol}://${request.headers.host}`;
  const isLocal = /^(localhost|127\.0\.0\.1|\[::1\])(:|$)/.test(request.headers.host ?? '');
  return configuration.shared && isLocal ? (addresses.advertised()[0] ?? own) : own;
}
