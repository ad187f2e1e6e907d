import { existsSync } from 'node:fs';
import { extname, join, sep } from 'node:path';
import express, { type RequestHandler } from 'express';

const FOREVER = 'public, max-age=31536000, immutable';

/** Serves the built pages. Files with a digest in their name never change; pages are asked for anew. */
export function servePages(folder: string): RequestHandler[] {
  const files = express.static(folder, {
    index: 'index.html',
    setHeaders: (response, path) => {
      const isAsset = path.includes(`${sep}assets${sep}`);
      response.set('cache-control', isAsset ? FOREVER : 'no-cache');
    },
  });
  return [compressedCopies(folder), files, nothingThere(folder)];
}

/** Copies that the build lays beside scripts and style sheets, the smaller first. */
const COPIES = [
  { encoding: 'br', ending: '.br' },
  { encoding: 'gzip', ending: '.gz' },
];
const KINDS: Record<string, string> = { '.js': 'text/javascript', '.css': 'text/css' };

/** Answers with the copy that was compressed when the pages were built, where there is one that the browser takes. */
function compressedCopies(folder: string): RequestHandler {
  return (request, response, next) => {
    const path = /^\/assets\/[\w.-]+$/.test(request.path) ? request.path : '';
    const kind = KINDS[extname(path)];
    if (kind === undefined || (request.method !== 'GET' && request.method !== 'HEAD')) return next();
    const copy = COPIES.find(({ encoding }) => request.acceptsEncodings(encoding) !== false);
    if (copy === undefined || !existsSync(join(folder, path + copy.ending))) return next();
    response.set({
      'content-type': `${kind}; charset=utf-8`,
      'content-encoding': copy.encoding,
      'cache-control': FOREVER,
      vary: 'accept-encoding',
    });
    response.sendFile(path.slice(1) + copy.ending, { root: folder, cacheControl: false });
  };
}

function nothingThere(folder: string): RequestHandler {
  return (_request, response) => {
    const built = existsSync(join(folder, 'index.html'));
    const words = built
      ? 'There is nothing at this address.'
      : 'The pages have not been built: run npm run build.';
    response.status(404).type('text/plain').send(`${words}\n`);
  };
}
