import pg from 'pg';

const RECONNECT_MS = 1_000;
/** A line that went dead without a word is found by asking. */
const ASK_EVERY_MS = 15_000;
const ANSWERED_WITHIN_MS = 5_000;

/**
 * Listens on a connection of its own for what other processes announce; what this process (`self`) announced is left
 * out. Connects again when the connection breaks, and then calls back with null: something may have been missed.
 */
export function announcements(databaseUrl: string, self: string, heard: (shopId: string | null) => void): () => void {
  let stopped = false;
  let client: pg.Client | undefined;
  let timer: NodeJS.Timeout | undefined;
  let asking: NodeJS.Timeout | undefined;

  const connect = async (again: boolean) => {
    if (stopped) return;
    const mine = new pg.Client({
      connectionString: databaseUrl,
      connectionTimeoutMillis: ANSWERED_WITHIN_MS,
      query_timeout: ANSWERED_WITHIN_MS,
      keepAlive: true,
    });
    client = mine;
    mine.on('notification', ({ payload }) => {
      const [from, shopId] = (payload ?? '').split(' ');
      if (from !== self && shopId) heard(shopId);
    });
    const retry = () => {
      if (stopped || client !== mine) return;
      client = undefined;
      clearInterval(asking);
      mine.end().catch(() => {});
      timer = setTimeout(() => void connect(true), RECONNECT_MS);
      timer.unref();
    };
    mine.on('error', retry);
    try {
      await mine.connect();
      await mine.query('LISTEN panelday_outbox');
      if (again) heard(null);
      asking = setInterval(() => mine.query('SELECT 1').catch(retry), ASK_EVERY_MS);
      asking.unref();
    } catch {
      retry();
    }
  };

  void connect(false);
  return () => {
    stopped = true;
    clearTimeout(timer);
    clearInterval(asking);
    client?.end().catch(() => {});
  };
}
