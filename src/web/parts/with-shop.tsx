import { type ComponentType, render } from 'preact';
import type { PageOf, Shop } from '../../api/replies.ts';
import '../look/look.css';
import { useReading } from '../wire/use-reading.ts';
import { words } from '../words.ts';
import { PageFrame } from './page-frame.tsx';
import { ProblemNote } from './problem-note.tsx';

/** Puts a screen on the page once the shop it is about is known: the one in `?shop=`, else the first. */
export function showScreen(screen: 'desk' | 'floor' | 'owner', Screen: ComponentType<{ shop: Shop }>): void {
  document.title = `${words.screens[screen]} · ${words.product}`;
  const wanted = new URLSearchParams(location.search).get('shop');

  function WithShop() {
    const [shops, again] = useReading<PageOf<Shop>>('/v1/shops');
    const shop = shops.value?.items.find((each) => wanted === null || each.id === wanted);
    if (shop)
      return (
        <PageFrame shop={shop} screen={screen}>
          <Screen shop={shop} />
        </PageFrame>
      );
    return (
      <main class="panel">
        <h1>{words.product}</h1>
        {shops.state === 'failed' ? <ProblemNote error={shops.error} onRetry={again} /> : <p>{words.loading}</p>}
      </main>
    );
  }

  const root = document.getElementById('root');
  if (root) render(<WithShop />, root);
}
