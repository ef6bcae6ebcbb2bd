const NAME_KEY = 'panelday.desk-name';

/** The name somebody at this desk signs with; kept on the device. Empty when nobody has yet. */
export const deskName = (): string => localStorage.getItem(NAME_KEY) ?? '';

export const keepDeskName = (name: string): void => localStorage.setItem(NAME_KEY, name);
