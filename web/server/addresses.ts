import { X509Certificate } from 'node:crypto';
import { hostname, networkInterfaces } from 'node:os';
import type { Configuration } from './configuration.ts';

const LOOPBACK = ['localhost', '127.0.0.1', '[::1]'];
/** Network addresses are looked up anew after this many milliseconds. */
const FRESH = 3000;

/** The names and numbers under which this machine may be reached. */
export interface Addresses {
  /** Values of the Host header that are answered. */
  isOwnHost(host: string): boolean;
  /** Addresses for links, the best first: `http://192.168.1.5:4321`. */
  advertised(): string[];
  /** An address of this workbench, now or earlier while it ran: where a ballot page may have come from. */
  isKnownOrigin(origin: string): boolean;
}

/** @param port the port that is listened on */
export function addressesOf(configuration: Configuration, port: number): Addresses {
  const { shared, secure } = configuration;
  const scheme = secure ? 'https' : 'http';
  const certified = secure ? namesIn(secure.certificate) : [];
  const seen = new Set<string>();
  let known = { at: 0, names: [] as string[] };

  const networkNames = (): string[] => {
    if (!shared) return [];
    if (Date.now() - known.at > FRESH) known = { at: Date.now(), names: [...certified, ...ownNames()] };
    return known.names;
  };
  const withPort = (name: string): string => (port === (secure ? 443 : 80) ? name : `${name}:${port}`);
  const origins = (): string[] => {
    const list = [...networkNames(), ...LOOPBACK].map((name) => `${scheme}://${withPort(name)}`);
    for (const origin of list) seen.add(origin);
    return list;
  };
  return {
    isOwnHost: (host) => origins().includes(`${scheme}://${host.toLowerCase()}`),
    advertised: () =>
      shared
        ? networkNames().map((name) => `${scheme}://${withPort(name)}`)
        : [`${scheme}://${withPort('127.0.0.1')}`],
    isKnownOrigin: (origin) => {
      origins();
      return seen.has(origin.toLowerCase());
    },
  };
}

function ownNames(): string[] {
  const numbers = Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter(({ internal, family }) => !internal && family === 'IPv4')
    .map(({ address }) => address);
  const name = hostname().toLowerCase();
  const names = /^[a-z0-9.-]+$/.test(name) && name !== 'localhost' ? [name] : [];
  const local = names.filter((n) => !n.includes('.')).map((n) => `${n}.local`);
  return [...numbers, ...local, ...names];
}

/** Names that a certificate was made for; wildcards are passed over. */
function namesIn(certificate: string): string[] {
  const alternatives = new X509Certificate(certificate).subjectAltName ?? '';
  return alternatives
    .split(', ')
    .map((entry) => entry.replace(/^(DNS|IP Address):/, '').toLowerCase())
    .filter((name) => /^[a-z0-9.-]+$/.test(name));
}
