/** A sign-in name as it is kept: without blanks around, in lower case, composed (NFC), so that one name is one account. */
export function signInNameOf(text: string): string {
  return text.trim().normalize('NFC').toLowerCase();
}
