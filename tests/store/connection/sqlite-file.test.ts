import { expect, it } from 'vitest';
import type { KeptConnection } from '../../../src/store/connection/kept-connection.ts';
import { sqliteFile } from '../../../src/store/connection/sqlite-file.ts';

/** A file on a disk; as SQLite does, a connection stays what it was when the first of the open ones was opened. */
function onADisk(isReadOnly: boolean) {
  const disk = { isReadOnly };
  const told: string[] = [];
  let open = 0;
  let openedReadOnly = false;
  const connect = (use: string): KeptConnection => {
    if (open === 0) openedReadOnly = disk.isReadOnly;
    open += 1;
    told.push(`open to ${use}`);
    const run = async () => {
      if (use === 'write' && openedReadOnly) {
        throw Object.assign(new Error('attempt to write a readonly database'), { code: 'SQLITE_READONLY' });
      }
      told.push(use);
      return { rows: [] } as never;
    };
    return {
      execute: run,
      executeMultiple: run,
      begin: run,
      async close() {
        await Promise.resolve();
        open -= 1;
        told.push(`close what was to ${use}`);
      },
    };
  };
  const file = sqliteFile({
    reading: () => connect('read'),
    writing: () => connect('write'),
    canBeWritten: () => !disk.isReadOnly,
    letGo: async () => void told.push('let go'),
  });
  return { disk, file, told };
}

it('a file that could not be written is opened anew, by both connections, once it can', async () => {
  const { disk, file, told } = onADisk(true);
  await file.reading.execute('SELECT 1');
  await expect(file.writing.begin('DELETE')).rejects.toThrow('readonly');
  await expect(file.writing.begin('DELETE')).rejects.toThrow('readonly');
  disk.isReadOnly = false;
  told.length = 0;
  const written = file.writing.begin('DELETE');
  const read = file.reading.execute('SELECT 1');
  await Promise.all([written, read]);
  expect(told.slice(0, 5)).toEqual([
    'close what was to read',
    'close what was to write',
    'let go',
    'open to read',
    'open to write',
  ]);
  expect(told.slice(5).sort()).toEqual(['read', 'write']);
});

it('a file that can be written is opened once', async () => {
  const { file, told } = onADisk(false);
  await file.writing.begin('DELETE');
  await file.reading.execute('SELECT 1');
  await file.writing.begin('DELETE');
  expect(told).toEqual(['open to read', 'open to write', 'write', 'read', 'write']);
});
