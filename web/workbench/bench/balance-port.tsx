import { useEffect, useRef, useState } from 'preact/hooks';
import { keep, kept } from '../kept.ts';
import { grams } from '../numbers.ts';
import { Choice } from '../parts/field.tsx';
import { connect, letGo, line, type SerialOptions, serialOf, writeInto } from './balance-line.ts';

interface PortProps {
  readability: number;
  read: (shown: string) => void;
}

const SPEEDS = ['1200', '2400', '4800', '9600', '19200', '38400', '115200'].map((one) => [one, one] as const);

/** Bits of a sign and their check, as balances' manuals list them. */
const SIGNS = [
  ['8 none', '8 bits, no parity'],
  ['7 even', '7 bits, even parity'],
  ['7 odd', '7 bits, odd parity'],
  ['8 even', '8 bits, even parity'],
] as const;

function optionsOf(speed: string, signs: string): SerialOptions {
  const [bits, parity] = signs.split(' ');
  const dataBits = bits === '7' ? 7 : 8;
  return { baudRate: Number(speed), dataBits, parity: parity as SerialOptions['parity'] };
}

/** Reads a balance through the serial port, in browsers that have one. What has settled is written into the field. */
export function BalancePort({ readability, read }: PortProps) {
  const [speed, setSpeed] = useState(() => kept<string>('balance-speed') ?? '9600');
  const [signs, setSigns] = useState(() => kept<string>('balance-signs') ?? '8 none');
  const reading = useRef(read);
  reading.current = read;
  useEffect(() => writeInto((value) => reading.current(grams(value, readability))), [readability]);
  const serial = serialOf();
  if (serial === null) return null;
  const { open, says } = line.value;
  const keeping = (key: string, set: (next: string) => void) => (next: string) => {
    set(next);
    keep(key, next);
  };
  return (
    <>
      <p class="small soft" role="status">
        {says}
      </p>
      <details class="small">
        <summary>Read the balance by cable</summary>
        {open ? (
          <button type="button" onClick={() => void letGo()}>
            Stop reading it
          </button>
        ) : (
          <>
            <Choice
              label="Its speed, bits a second"
              class="narrow"
              options={SPEEDS}
              value={speed}
              change={keeping('balance-speed', setSpeed)}
            />
            <Choice
              label="How it sends each sign"
              class="narrow-choice"
              options={SIGNS}
              value={signs}
              change={keeping('balance-signs', setSigns)}
            />
            <p class="help">Both stand in the balance’s manual.</p>
            <button type="button" onClick={() => void connect(serial, optionsOf(speed, signs))}>
              Connect
            </button>
          </>
        )}
      </details>
    </>
  );
}
