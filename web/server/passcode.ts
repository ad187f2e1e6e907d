import { randomBytes, randomInt, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';
import { promisify } from 'node:util';
import type { Store } from '../../trials/store/store.ts';

const SETTING = 'passcode';
const COST: ScryptOptions = { N: 2 ** 15, r: 8, p: 1, maxmem: 64 * 1024 * 1024 };
const BYTES = 32;
/** Signs that are not mistaken for each other when read aloud. */
const SIGNS = 'abcdefghjkmnpqrstuvwxyz23456789';

const derive = promisify<string, Buffer, number, ScryptOptions, Buffer>(scrypt);

/** A passcode to say across a table: three groups of four, about 59 bits. */
export function drawPasscode(): string {
  const group = () => Array.from({ length: 4 }, () => SIGNS[randomInt(SIGNS.length)]).join('');
  return [group(), group(), group()].join('-');
}

export function hasPasscode(store: Store): boolean {
  return store.access.houseSetting(SETTING) !== null;
}

/** Stores the salted scrypt hash of a passcode. Whoever came in with another one is asked again. */
export async function setPasscode(store: Store, passcode: string, at: Date): Promise<void> {
  const salt = randomBytes(16);
  const hash = await derive(passcode, salt, BYTES, COST);
  store.write(() => {
    store.access.setHouseSetting(SETTING, `${salt.toString('hex')}:${hash.toString('hex')}`);
    store.access.dropMakerCookies();
    store.acts.add(null, { at: at.toISOString(), who: 'maker', act: 'set the passcode', detail: '' });
  });
}

/** Whether this is the passcode; takes as long for a wrong one as for the right one. */
export async function isPasscode(store: Store, passcode: string): Promise<boolean> {
  const stored = store.access.houseSetting(SETTING);
  if (stored === null) return false;
  const [salt = '', hash = ''] = stored.split(':');
  const given = await derive(passcode, Buffer.from(salt, 'hex'), BYTES, COST);
  return timingSafeEqual(given, Buffer.from(hash, 'hex'));
}
