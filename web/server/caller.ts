import type { Request } from 'express';
import { hashToken } from '../../trials/rounds/tokens.ts';
import type { Role } from '../../trials/schema/api.ts';
import type { SeatKey } from '../../trials/store/records.ts';
import { readCookie } from './cookie.ts';
import type { House } from './house.ts';

/** Who is calling: one role, and for tasters and pourers the place it is bound to. */
export interface Caller {
  role: Role;
  seat: SeatKey | null;
  pouring: { trial: string; sitting: string } | null;
}

const STRANGER: Caller = { role: 'anyone', seat: null, pouring: null };

/** The header that carries a ballot's token. */
export const BALLOT_HEADER = 'x-dropwise-ballot';

/**
 * A ballot's token makes a taster and nothing else, whatever cookie comes with it. Without one, whoever sits at this
 * machine is the maker, unless the workbench is shared: then the cookie says who it is.
 */
export function callerOf(house: House, request: Request): Caller {
  const token = request.get(BALLOT_HEADER);
  if (token !== undefined) {
    const seat = house.store.sittings.seatOf(hashToken(token));
    return seat ? { role: 'taster', seat, pouring: null } : STRANGER;
  }
  if (!house.configuration.shared) return isThisMachine(request) ? { ...STRANGER, role: 'maker' } : STRANGER;
  const cookie = readCookie(request);
  const entry = cookie === null ? null : house.store.access.cookie(hashToken(cookie));
  if (entry === null || entry.ends <= house.now().toISOString()) return STRANGER;
  if (entry.role === 'maker') return { ...STRANGER, role: 'maker' };
  const { trial, sitting } = entry;
  return trial === null || sitting === null
    ? STRANGER
    : { role: 'pourer', seat: null, pouring: { trial, sitting } };
}

function isThisMachine(request: Request): boolean {
  const address = request.socket.remoteAddress ?? '';
  return address === '127.0.0.1' || address === '::1' || address === '::ffff:127.0.0.1';
}
