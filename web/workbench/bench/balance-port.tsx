import { useEffect, useRef, useState } from 'preact/hooks';
import { keep, kept } from '../kept.ts';
import { grams } from '../numbers.ts';
import { Choice } from '../parts/field.tsx';
import { settledReadings } from './balance-reading.ts';

/** The part of the browser's serial port that is used here (Web Serial, a draft standard). */
interface SerialPort {
  readable: ReadableStream<Uint8Array> | null;
  open(options: { baudRate: number }): Promise<void>;
  close(): Promise<void>;
}

function serialOf(): { requestPort(): Promise<SerialPort> } | null {
  return (navigator as { serial?: { requestPort(): Promise<SerialPort> } }).serial ?? null;
}

let open: SerialPort | null = null;
/** Where settled masses go: the field that is on the page now. */
let listener: ((grams: number) => void) | null = null;

interface PortProps {
  readability: number;
  read: (shown: string) => void;
}

const SPEEDS = ['1200', '2400', '4800', '9600', '19200', '38400', '115200'].map((one) => [one, one] as const);

/** Reads a balance through the serial port, in browsers that have one. What has settled is written into the field. */
export function BalancePort({ readability, read }: PortProps) {
  const [speed, setSpeed] = useState(() => kept<string>('balance-speed') ?? '9600');
  const [says, setSays] = useState(open === null ? '' : 'The balance is read.');
  const reading = useRef(read);
  reading.current = read;
  useEffect(() => {
    const mine = (value: number) => reading.current(grams(value, readability));
    listener = mine;
    return () => {
      if (listener === mine) listener = null;
    };
  }, [readability]);
  const serial = serialOf();
  if (serial === null) return null;
  const connect = async () => {
    try {
      open = await serial.requestPort();
      await open.open({ baudRate: Number(speed) });
      setSays('The balance is read: its number appears when it has settled. Enter keeps it.');
      void listen(open).then(() => {
        open = null;
        setSays('The balance is silent: connect it again, or type.');
      });
    } catch (thrown) {
      open = null;
      setSays(`No balance: ${thrown instanceof Error ? thrown.message : 'it could not be opened'}`);
    }
  };
  return (
    <details class="small">
      <summary>Read the balance by cable</summary>
      <Choice
        label="Its speed, bits a second"
        class="narrow"
        options={SPEEDS}
        value={speed}
        change={(next) => {
          setSpeed(next);
          keep('balance-speed', next);
        }}
      />
      <button type="button" onClick={() => void connect()}>
        Connect
      </button>
      <p role="status">{says}</p>
    </details>
  );
}

/** Hands settled masses to whatever field listens, until the port ends. */
async function listen(port: SerialPort): Promise<void> {
  const hear = settledReadings((value) => listener?.(value));
  const reader = port.readable?.getReader();
  if (reader === undefined) return;
  const decoder = new TextDecoder();
  try {
    for (;;) {
      const { value, done } = await reader.read();
      if (done) return;
      hear(decoder.decode(value, { stream: true }));
    }
  } catch {
    // unplugged: the page says that the balance is silent
  }
}
