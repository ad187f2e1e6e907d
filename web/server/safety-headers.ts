import type { RequestHandler } from 'express';
import helmet from 'helmet';
import type { House } from './house.ts';

/** Nothing inline, nothing evaluated, nothing from elsewhere; ballots may also call the other own addresses. */
export function safetyHeaders({
  addresses,
  configuration,
}: Pick<House, 'addresses' | 'configuration'>): RequestHandler {
  const others = () => (configuration.shared ? addresses.advertised().join(' ') : '');
  return helmet({
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        'default-src': ["'none'"],
        'script-src': ["'self'"],
        'style-src': ["'self'"],
        'img-src': ["'self'", 'data:', 'blob:'],
        'font-src': ["'self'"],
        'connect-src': ["'self'", () => others()],
        'manifest-src': ["'self'"],
        'worker-src': ["'self'"],
        'base-uri': ["'none'"],
        'form-action': ["'self'"],
        'frame-ancestors': ["'none'"],
      },
    },
    strictTransportSecurity: false,
    crossOriginOpenerPolicy: configuration.secure !== null,
    originAgentCluster: configuration.secure !== null,
  });
}
