import { render } from 'preact';
import { App } from './app.tsx';
import { setOffAllText } from './parts/other-way.ts';

setOffAllText();
render(<App />, document.getElementById('workbench')!);
