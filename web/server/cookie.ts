import type { Request, Response } from 'express';
import { drawToken, hashToken } from '../../trials/rounds/tokens.ts';
import type { CookieRecord } from '../../trials/store/records.ts';
import { contextFor, type House } from './house.ts';

/** How long a cookie is good for, in days. */
const DAYS = 30;

/** Ports of one machine share their cookies, so each workbench names its own. */
function cookieName(request: Request): string {
  return `dropwise-${request.socket.localPort ?? 0}`;
}

/** The cookie of this workbench, null where the request has none. */
export function readCookie(request: Request): string | null {
  const name = `${cookieName(request)}=`;
  const pairs = (request.headers.cookie ?? '').split(';').map((pair) => pair.trim());
  const value = pairs.find((pair) => pair.startsWith(name))?.slice(name.length);
  return value === undefined || value.length > 100 ? null : value;
}

/** Lets the caller in: a random token as a cookie that scripts and other sites never see. */
export function giveCookie(
  house: House,
  { request, response }: { request: Request; response: Response },
  rights: Omit<CookieRecord, 'ends'>,
): void {
  const { store } = contextFor(house, rights.role);
  const token = drawToken();
  const now = house.now();
  const ends = new Date(now.getTime() + DAYS * 86_400_000).toISOString();
  store.write(() => {
    store.access.dropEndedCookies(now.toISOString());
    store.access.addCookie(hashToken(token), now.toISOString(), { ...rights, ends });
  });
  response.cookie(cookieName(request), token, { ...flags(house), maxAge: DAYS * 86_400_000 });
}

/** Takes the caller's cookie back, here and in the browser. */
export function takeCookie(house: House, request: Request, response: Response): void {
  const cookie = readCookie(request);
  if (cookie !== null) house.store.access.dropCookie(hashToken(cookie));
  response.clearCookie(cookieName(request), flags(house));
}

function flags(house: House) {
  return {
    httpOnly: true,
    sameSite: 'strict',
    secure: house.configuration.secure !== null,
    path: '/',
  } as const;
}
