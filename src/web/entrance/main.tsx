import { render } from 'preact';
import '../look/look.css';
import { words } from '../words.ts';

function Entrance() {
  return (
    <main class="floor">
      <h1>{words.product}</h1>
      <p class="quiet">{words.invented}</p>
      <nav class="people" aria-label={words.product}>
        {(['desk', 'floor', 'owner'] as const).map((screen) => (
          <a key={screen} class="panel" href={`/${screen}.html`}>
            <h2>{words.screens[screen]}</h2>
          </a>
        ))}
        <a class="panel" href="/docs">
          <h2>{words.screens.api}</h2>
        </a>
      </nav>
    </main>
  );
}

const root = document.getElementById('root');
if (root) render(<Entrance />, root);
