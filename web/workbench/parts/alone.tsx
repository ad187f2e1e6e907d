import type { ComponentChildren } from 'preact';

/**
 * A page without a trial. While one is on its way (`waits`), the place of its story is kept so that nothing moves when
 * it comes.
 */
export function Alone({ waits = false, children }: { waits?: boolean; children: ComponentChildren }) {
  return (
    <div class={waits ? 'house' : 'house alone'}>
      {waits && <div class="spine" />}
      <main id="main">{children}</main>
    </div>
  );
}
