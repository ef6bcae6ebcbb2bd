/** `npm run backup -- FILE`: writes everything the database holds into a file, while the server runs. */
import { atDatabase, say } from './at-database.mjs';

await atDatabase('backup', async ({ databaseUrl, path, load }) => {
  const { writeBackup } = await load('store/backup/write-backup.js');
  const { tables } = await writeBackup({ databaseUrl, path, now: new Date() });
  for (const { name, rows } of tables) if (rows > 0) say(`${name}: ${rows}`);
  say(`kept in ${path}; it holds personal data and hashes of passwords`);
});
