import { signal } from '@preact/signals';
import { keep, kept } from '../kept.ts';

type Light = 'as the system' | 'light' | 'dark';
const ORDER: readonly Light[] = ['as the system', 'light', 'dark'];

/** How bright the pages are; charts redraw when it changes. */
export const light = signal<Light>(kept<Light>('light') ?? 'as the system');

light.subscribe((now) => {
  if (now === 'as the system') delete document.documentElement.dataset['light'];
  else document.documentElement.dataset['light'] = now;
});

/** Turns through light, dark and what the system says. */
export function LightSwitch() {
  const turn = () => {
    light.value = ORDER[(ORDER.indexOf(light.value) + 1) % ORDER.length]!;
    keep('light', light.value);
  };
  return (
    <button type="button" class="quiet small" onClick={turn}>
      Colours: {light.value === 'as the system' ? 'auto' : light.value}
    </button>
  );
}
