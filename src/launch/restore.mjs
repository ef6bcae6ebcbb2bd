/** `npm run restore -- FILE [--replace]`: makes the database hold what a backup holds, all of it or nothing. */
import { atDatabase, say } from './at-database.mjs';

await atDatabase('restore', async ({ databaseUrl, path, replace, load }) => {
  const { restoreBackup } = await load('store/backup/restore-backup.js');
  const { tables } = await restoreBackup({ databaseUrl, path, replace });
  for (const { name, rows } of tables) if (rows > 0) say(`${name}: ${rows}`);
  say('restored: every table was read again and is what the backup holds');
});
