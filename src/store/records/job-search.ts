/**
 * What counts in a search: lower-case letters without accents, and digits. "KX 12-AB" is found by "kx12ab", "Zoë" by
 * "zoe". Nothing is left that a LIKE pattern would read as a wildcard.
 */
export function foldForSearch(text: string): string {
  return text
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .replace(/[^\p{L}\p{N}@.]/gu, '');
}
