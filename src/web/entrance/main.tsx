import { render } from 'preact';
import '../look/letters.css';
import '../look/look.css';
import { Mark } from '../parts/mark.tsx';
import { words } from '../words.ts';

/** The way in: which of the screens. */
function Entrance() {
  const screens = ['desk', 'floor', 'owner', 'people', 'api'] as const;
  return (
    <div class="frame">
      <header>
        <span class="shop">
          <Mark /> {words.product}
        </span>
      </header>
      <main>
        <div class="floor">
          <h1>{words.product}</h1>
          <nav class="people" aria-label={words.product}>
            {screens.map((screen) => (
              <a key={screen} class="panel" href={screen === 'api' ? '/docs' : `/${screen}.html`}>
                {words.screens[screen]}
                <small>{words.screenMeanings[screen]}</small>
              </a>
            ))}
          </nav>
        </div>
      </main>
      <footer>{words.invented}</footer>
    </div>
  );
}

document.title = words.product;
const root = document.getElementById('root');
if (root) render(<Entrance />, root);
