import type { ComponentChildren } from 'preact';
import type { Shop } from '../../api/replies.ts';
import { useConnection } from '../wire/connection.ts';
import { words } from '../words.ts';
import { Mark } from './mark.tsx';

export type Screen = 'desk' | 'floor' | 'owner';

/** What every screen has around it: whose shop it is, the way to the other screens, whether news arrives, what is invented. */
export function PageFrame({ shop, screen, children }: { shop: Shop; screen: Screen; children: ComponentChildren }) {
  const connected = useConnection();
  return (
    <div class="frame">
      <header>
        <a class="skip" href="#main">
          {words.skip}
        </a>
        <span class="shop">
          <Mark />
          {shop.name}
        </span>
        <nav aria-label={words.product}>
          <ul>
            {(['desk', 'floor', 'owner'] as const).map((each) => (
              <li key={each}>
                <a href={`/${each}.html`} aria-current={each === screen ? 'page' : undefined}>
                  {words.screens[each]}
                </a>
              </li>
            ))}
            <li>
              <a href="/docs">{words.screens.api}</a>
            </li>
          </ul>
        </nav>
        <span class={`live ${connected ? '' : 'cut'}`} role="status">
          {connected ? words.live : words.cut}
        </span>
      </header>
      <main id="main" tabIndex={-1}>
        {children}
      </main>
      <footer>{words.invented}</footer>
    </div>
  );
}
