/** The file of a `file:` URL. */
export function sqlitePath(databaseUrl: string): string {
  const path = databaseUrl.slice('file:'.length).split('?')[0]!;
  return decodeURIComponent(path.replace(/^\/\/(localhost)?(?=\/)/, ''));
}
