import type { ComponentChildren } from 'preact';
import type { Me, Shop } from '../../api/replies.ts';
import { call } from '../wire/api.ts';
import { useConnection } from '../wire/connection.ts';
import { words } from '../words.ts';
import { Mark } from './mark.tsx';

export type Screen = 'desk' | 'floor' | 'owner' | 'people';

interface PageFrameProps {
  readonly shop: Shop;
  readonly screen: Screen;
  /** Who is signed in, once that is known. */
  readonly me: Me | null;
  readonly children: ComponentChildren;
}

/** What every screen has around it: whose shop it is, the way to the other screens, whether news arrives, what is invented. */
export function PageFrame({ shop, screen, me, children }: PageFrameProps) {
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
            {screensFor(shop, me).map((each) => (
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
        {me ? (
          <>
            <span class="who">{words.signedInAs(me.name)}</span>
            <button type="button" class="leave" onClick={signOut}>
              {words.signOut}
            </button>
          </>
        ) : null}
      </header>
      <main id="main" tabIndex={-1}>
        {children}
      </main>
      <footer>{words.invented}</footer>
    </div>
  );
}

/** What each screen takes of whoever is signed in. */
const takes = { desk: 'book', floor: 'work', owner: 'figures', people: 'admit' } as const;

/** The screens that whoever is signed in may use; all of them until that is known. */
function screensFor(shop: Shop, me: Me | null): readonly Screen[] {
  const all = Object.keys(takes) as Screen[];
  const permissions = me?.shops.find(({ shopId }) => shopId === shop.id)?.permissions;
  return permissions === undefined ? all : all.filter((each) => permissions.includes(takes[each]));
}

async function signOut(): Promise<void> {
  await call('/v1/sign-ins/current', { method: 'DELETE' });
  location.assign('/sign-in.html');
}
