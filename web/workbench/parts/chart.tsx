import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { csvText } from '../../../trials/schema/csv-text.ts';
import type { ChartFrame, Spec } from '../../charts/theme.ts';
import { DARK, LIGHT } from '../../charts/theme.ts';
import { aligned } from '../numbers.ts';
import { light } from './light-switch.tsx';
import { saveFile, saveText } from './save-file.ts';
import { Scroll } from './scroll.tsx';
import { Unfold } from './unfold.tsx';

/** A chart's data as rows: for the table beside it and for the file. */
export interface ChartTable {
  head: readonly string[];
  rows: readonly (readonly (string | number | null)[])[];
}

interface ChartProps {
  /** Says what the chart shows. */
  title: string;
  /** The same for those who do not see it, and for everybody in a hurry. */
  summary: ComponentChildren;
  spec: (frame: ChartFrame) => Spec;
  table: ChartTable;
  /** Redraws when it changes. */
  of: unknown;
  /** A mark was tapped. */
  tap?: (datum: Record<string, unknown>) => void;
  under?: ComponentChildren;
}

/** Fetches what draws charts while the page waits for what they show: for pages that always show one. */
export function expectCharts(): void {
  void import('./draw.ts').catch(() => undefined);
}

/** A chart with its title, summary, table and files. It is drawn when it comes into view. */
export function Chart({ title, summary, spec, table, of, tap, under }: ChartProps) {
  const place = useRef<HTMLDivElement>(null);
  const frame = useFrame(place);
  const made = useMemo(() => (frame === null ? null : spec(frame)), [frame, of]);
  const failed = useDrawing(place, made, tap);
  return (
    <figure class="chart" aria-label={title}>
      <h3>{title}</h3>
      <p class="summary">{summary}</p>
      <div class="drawing" role="img" aria-label={`${title}. The same numbers stand in the table below.`}>
        <div ref={place} />
      </div>
      {failed && <p class="soft">The chart could not be drawn; its numbers stand in the table.</p>}
      {under}
      <Unfold small says="the numbers, and files to keep">
        <div class="row">
          <button type="button" onClick={() => made && void savePicture(title, made, 'svg', frame!)}>
            SVG
          </button>
          <button type="button" onClick={() => made && void savePicture(title, made, 'png', frame!)}>
            PNG
          </button>
          <button
            type="button"
            onClick={() => saveText(`${fileOf(title)}.csv`, csvText(table.head, table.rows), 'text/csv')}
          >
            CSV
          </button>
        </div>
        <DataTable title={title} table={table} />
      </Unfold>
    </figure>
  );
}

function DataTable({ title, table }: { title: string; table: ChartTable }) {
  const numeric = table.head.map((_, c) => table.rows.some((row) => typeof row[c] === 'number'));
  const says = table.head.map((_, c) =>
    aligned(
      table.rows.map((row) => numberIn(row[c])),
      4,
    ),
  );
  return (
    <Scroll label={`Numbers of: ${title}`}>
      <table class="small">
        <caption class="unseen">{title}</caption>
        <thead>
          <tr>
            {table.head.map((head, c) => (
              <th key={head} scope="col" class={numeric[c] ? 'n' : undefined}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row, r) => (
            <tr key={r}>
              {row.map((cell, c) => (
                <td key={c} class={numeric[c] ? 'n' : undefined}>
                  {typeof cell === 'string' ? <span class="row-name">{cell}</span> : says[c]!(cell)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  );
}

function numberIn(cell: string | number | null | undefined): number | null {
  return typeof cell === 'number' ? cell : null;
}

/** Pixels beyond the window at which a chart counts as in sight. */
const NEAR = 300;

function isNear(element: HTMLElement): boolean {
  const { top, bottom } = element.getBoundingClientRect();
  return top < innerHeight + NEAR && bottom > -NEAR;
}

/** How wide the chart may be and in which light; null until it has been in view once. */
function useFrame(place: { current: HTMLElement | null }): ChartFrame | null {
  const [seen, setSeen] = useState(false);
  const [width, setWidth] = useState(0);
  const [dark, setDark] = useState(isDark());
  useLayoutEffect(() => {
    const element = place.current!;
    // What is in sight from the start need not wait until the browser says so.
    if (isNear(element)) {
      setSeen(true);
      setWidth(Math.floor(element.clientWidth));
    }
    const sight = new IntersectionObserver(
      (entries) => entries.some((entry) => entry.isIntersecting) && setSeen(true),
      { rootMargin: `${NEAR}px` },
    );
    const size = new ResizeObserver(() => setWidth(Math.floor(element.clientWidth)));
    sight.observe(element);
    size.observe(element);
    return () => {
      sight.disconnect();
      size.disconnect();
    };
  }, []);
  useEffect(() => {
    const system = matchMedia('(prefers-color-scheme: dark)');
    const settle = () => setDark(isDark());
    const stop = light.subscribe(settle);
    system.addEventListener('change', settle);
    return () => {
      stop();
      system.removeEventListener('change', settle);
    };
  }, []);
  return useMemo(
    () => (seen && width > 0 ? { width, theme: dark ? DARK : LIGHT } : null),
    [seen, width, dark],
  );
}

function isDark(): boolean {
  if (light.value !== 'as the system') return light.value === 'dark';
  return matchMedia('(prefers-color-scheme: dark)').matches;
}

function useDrawing(
  place: { current: HTMLElement | null },
  spec: Spec | null,
  tap: ChartProps['tap'],
): boolean {
  const [failed, setFailed] = useState(false);
  const tapped = useRef(tap);
  tapped.current = tap;
  useEffect(() => {
    if (spec === null) return;
    let gone = false;
    let finish = () => {};
    const begin = async () => {
      const { draw } = await import('./draw.ts');
      if (gone || place.current === null) return;
      // The page says the title in its own type; files carry it.
      const { title: _, ...untitled } = spec as Spec & { title?: unknown };
      const drawn = await draw(place.current, untitled as Spec);
      finish = () => drawn.finalize();
      if (gone) finish();
      drawn.view.addEventListener('click', (_event, item) => {
        if (item?.datum) tapped.current?.(item.datum as Record<string, unknown>);
      });
    };
    begin().catch(() => setFailed(true));
    return () => {
      gone = true;
      finish();
    };
  }, [spec]);
  return failed;
}

async function savePicture(title: string, spec: Spec, kind: 'svg' | 'png', frame: ChartFrame): Promise<void> {
  const { pictureOf } = await import('./draw.ts');
  saveFile(`${fileOf(title)}.${kind}`, await pictureOf(spec, kind, frame.theme.paper));
}

function fileOf(title: string): string {
  return title
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .slice(0, 60);
}
