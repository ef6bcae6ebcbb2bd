import { type ComponentType, render } from 'preact';
import type { Me, PageOf, Shop } from '../../api/replies.ts';
import { bringLetters } from '../look/letters.ts';
import '../look/look.css';
import { takeWhatCame } from '../wire/came-first.ts';
import { noteDrawn } from '../wire/first-draw.ts';
import { useReading } from '../wire/use-reading.ts';
import { whenQuiet } from '../wire/when-quiet.ts';
import { words } from '../words.ts';
import { PageFrame, type Screen } from './page-frame.tsx';
import { ProblemNote } from './problem-note.tsx';

const SHOP_KEY = 'panelday.shop';

/** Puts a screen on the page once the shop it is about is known: the one in `?shop=`, else the first. */
export function showScreen(screen: Screen, Screen: ComponentType<{ shop: Shop; me: Me | null }>): void {
  document.title = `${words.screens[screen]} · ${words.product}`;
  const wanted = new URLSearchParams(location.search).get('shop');

  function WithShop() {
    const [shops, again] = useReading<PageOf<Shop>>('/v1/shops');
    const [me] = useReading<Me>('/v1/me');
    const found = shops.value?.items.find((each) => wanted === null || each.id === wanted);
    if (found) localStorage.setItem(SHOP_KEY, JSON.stringify(found));
    const shop = found ?? (shops.state === 'failed' ? kept(wanted) : undefined);
    if (shop)
      return (
        <PageFrame shop={shop} screen={screen} me={me.value}>
          <Screen shop={shop} me={me.value} />
        </PageFrame>
      );
    return (
      <main class="floor" id="main">
        <h1>{words.product}</h1>
        {shops.state === 'failed' ? <ProblemNote error={shops.error} onRetry={again} /> : null}
        {shops.state === 'loading' ? <p>{words.loading}</p> : null}
        {shops.state === 'ready' ? <p class="note">{words.noShop}</p> : null}
      </main>
    );
  }

  const root = document.getElementById('root');
  if (root)
    void takeWhatCame().then(() => {
      render(<WithShop />, root);
      noteDrawn();
    });
  void bringLetters();
  if (import.meta.env.MODE === 'production') void keepOnDevice();
}

/** Fetches every page once more, so it waits until the figures are there. */
async function keepOnDevice(): Promise<void> {
  await whenQuiet();
  await navigator.serviceWorker?.register('/service-worker.js');
}

/** The shop as it was last read, for a device without a connection. */
function kept(wanted: string | null): Shop | undefined {
  const text = localStorage.getItem(SHOP_KEY);
  const shop = text === null ? undefined : (JSON.parse(text) as Shop);
  return shop && (wanted === null || shop.id === wanted) ? shop : undefined;
}
