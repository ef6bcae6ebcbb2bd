import type { ComponentChildren } from 'preact';
import type { Shop } from '../../api/replies.ts';
import { words } from '../words.ts';

type Screen = 'desk' | 'floor' | 'owner';

/** What every screen has around it: whose shop it is, the way to the other screens, and what is invented. */
export function PageFrame({ shop, screen, children }: { shop: Shop; screen: Screen; children: ComponentChildren }) {
  return (
    <div class="frame">
      <header>
        <a class="skip" href="#main">
          {words.skip}
        </a>
        <span class="shop">{shop.name}</span>
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
      </header>
      <main id="main">{children}</main>
      <footer>
        {words.product}. {words.invented}
      </footer>
    </div>
  );
}
