import { render } from 'preact';
import style from './ballot.css?inline';
import questions from './questions.css?inline';
import { Ballot } from './screens.tsx';
import { begin, language } from './session.ts';

/** Style travels inside the script: one request brings all there is. */
const sheet = new CSSStyleSheet();
sheet.replaceSync(style + questions);
document.adoptedStyleSheets = [sheet];

language.subscribe((tag) => {
  document.documentElement.lang = tag;
});

render(<Ballot />, document.getElementById('ballot')!);
void begin(location.hash.slice(1));

/**
 * On https a service worker keeps this page, so that it opens again without the network. It is a bonus: plain http
 * has none, and nothing here needs it.
 */
if (location.protocol === 'https:' && 'serviceWorker' in navigator)
  addEventListener(
    'load',
    () => void navigator.serviceWorker.register('/ballot-keeper.js').catch(() => null),
  );

/** Another link opened in the same page is another taster: start from nothing. */
addEventListener('hashchange', () => location.reload());
