import type { Request, Response } from 'express';

/** Starts something that sends answers until it is stopped. */
export type Subscribe<T> = (send: (answer: T) => void, end: () => void) => () => void;

const HEARTBEAT = 15_000;

/**
 * Answers with server-sent events. `no-transform` keeps the compressor from holding them back.
 * @param open holds what ends each stream, for when the workbench stops
 */
export function streamEvents<T>(
  { request, response }: { request: Request; response: Response },
  subscribe: Subscribe<T>,
  open: Set<() => void>,
): void {
  response.status(200).set({
    'content-type': 'text/event-stream',
    'cache-control': 'no-cache, no-transform',
    'x-accel-buffering': 'no',
  });
  response.flushHeaders();
  if (request.method === 'HEAD') {
    response.end();
    return;
  }
  const heartbeat = setInterval(() => response.write(': here\n\n'), HEARTBEAT);
  const send = (answer: T) => void response.write(`data: ${JSON.stringify(answer)}\n\n`);
  const end = () => response.end();
  const stop = subscribe(send, end);
  open.add(end);
  response.on('close', () => {
    clearInterval(heartbeat);
    open.delete(end);
    stop();
  });
}
