import { signal } from '@preact/signals';
import { settledReadings } from './balance-reading.ts';

/** How a balance sends its signs. */
export interface SerialOptions {
  baudRate: number;
  dataBits: 7 | 8;
  parity: 'none' | 'even' | 'odd';
}

/** The part of the browser's serial port that is used here (Web Serial, a draft standard). */
interface SerialPort {
  readable: ReadableStream<Uint8Array> | null;
  open(options: SerialOptions): Promise<void>;
  close(): Promise<void>;
}

interface Serial {
  requestPort(): Promise<SerialPort>;
}

/** The line to the balance; it outlives the fields that its masses are written into. */
export const line = signal<{ open: boolean; says: string }>({ open: false, says: '' });

/** Where settled masses go: the field that is on the page now. */
let field: ((grams: number) => void) | null = null;
let reader: ReadableStreamDefaultReader<Uint8Array> | null = null;

/** The browser's serial ports; null where it has none, as on plain http from another machine. */
export function serialOf(): Serial | null {
  return (navigator as { serial?: Serial }).serial ?? null;
}

/** Has settled masses written into a field until it gives way. */
export function writeInto(take: (grams: number) => void): () => void {
  field = take;
  return () => {
    if (field === take) field = null;
  };
}

/** Asks for a port and reads it until it ends or is let go. What goes wrong is said, and typing goes on. */
export async function connect(serial: Serial, options: SerialOptions): Promise<void> {
  try {
    const port = await serial.requestPort();
    await port.open(options);
    line.value = {
      open: true,
      says: 'The balance is read: its number appears when it has settled. Enter keeps it.',
    };
    void listen(port);
  } catch (thrown) {
    const why = thrown instanceof Error ? thrown.message : 'it could not be opened';
    line.value = { open: false, says: `No balance: ${why}` };
  }
}

/** Ends the line from this side. */
export async function letGo(): Promise<void> {
  await reader?.cancel();
}

async function listen(port: SerialPort): Promise<void> {
  const hear = settledReadings((grams) => field?.(grams));
  const decoder = new TextDecoder();
  try {
    reader = port.readable?.getReader() ?? null;
    for (;;) {
      const part = await reader?.read();
      if (part === undefined || part.done) break;
      hear(decoder.decode(part.value, { stream: true }));
    }
  } catch {
    // unplugged: said below
  }
  reader?.releaseLock();
  reader = null;
  await port.close().catch(() => undefined);
  line.value = { open: false, says: 'The balance is silent: connect it again, or type.' };
}
