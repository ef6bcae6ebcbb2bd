/** So long nothing must have been under way: what one answer leads to has then been asked. */
const QUIET_MS = 200;

let underWay = 0;
let timer: ReturnType<typeof setTimeout> | undefined;
const waiting: (() => void)[] = [];

/** Something is asked of the server. */
export function noteAsked(): void {
  underWay++;
  clearTimeout(timer);
}

/** It has answered, or will not. */
export function noteAnswered(): void {
  underWay--;
  if (underWay > 0) return;
  timer = setTimeout(() => {
    for (const tell of waiting.splice(0)) tell();
  }, QUIET_MS);
}

/** Resolves once the server has answered all that was asked: what can wait does not take the line from what cannot. */
export function whenQuiet(): Promise<void> {
  return new Promise((resolve) => waiting.push(resolve));
}
