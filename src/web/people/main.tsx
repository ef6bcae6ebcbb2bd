import type { Me, Shop } from '../../api/replies.ts';
import { ProblemNote } from '../parts/problem-note.tsx';
import { showScreen } from '../parts/with-shop.tsx';
import { useReading } from '../wire/use-reading.ts';
import { accessWords } from '../words/access.ts';
import { AccountList } from './account-list.tsx';
import { TabletList } from './tablet-list.tsx';
import { TokenList } from './token-list.tsx';

const text = accessWords;

/** Who may sign in to the shop, the tablets on which PINs count, the programs that may ask. */
function People({ shop }: { shop: Shop }) {
  const [me, again] = useReading<Me>('/v1/me');
  const mine = me.value?.shops.find(({ shopId }) => shopId === shop.id);
  return (
    <div class="stack">
      <h1>{text.people}</h1>
      <p class="quiet">{text.peopleMeaning}</p>
      {me.state === 'failed' ? <ProblemNote error={me.error} onRetry={again} /> : null}
      {me.state === 'ready' && !mine?.permissions.includes('admit') ? <p class="note watch">{text.notYours}</p> : null}
      {mine?.permissions.includes('admit') ? (
        <>
          <AccountList shopId={shop.id} />
          <TabletList shopId={shop.id} />
          <TokenList shopId={shop.id} permissions={mine.permissions} />
        </>
      ) : null}
    </div>
  );
}

showScreen('people', People);
