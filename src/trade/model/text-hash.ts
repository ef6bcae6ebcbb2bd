/** 32 bits that differ where texts differ, the same in every run (FNV-1a: Fowler, Noll and Vo 1991). */
export function textHash(text: string): number {
  let hash = 0x811c9dc5;
  for (let k = 0; k < text.length; k++) hash = Math.imul(hash ^ text.charCodeAt(k), 0x01000193);
  return hash;
}
