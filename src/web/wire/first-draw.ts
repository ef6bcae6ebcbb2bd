let tell: () => void;
const drawn = new Promise<void>((resolve) => {
  tell = resolve;
});

/** The first view has been drawn, and what it lacks has been asked for. */
export const noteDrawn = (): void => tell();

/** Resolves then: what comes next on the line comes behind that. */
export const whenDrawn = (): Promise<void> => drawn;
