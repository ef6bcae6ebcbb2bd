/** One e-mail in plain text. */
export interface Mail {
  /** The same message has the same one at every attempt, so that a mailbox can tell a double (RFC 5322, 3.6.4). */
  readonly messageId: string;
  readonly to: string;
  readonly subject: string;
  readonly text: string;
}

/**
 * How an attempt ended. `accepted`: the server took it. `refused`: it never will. `later`: it did not take it now.
 * `unknown`: the text was on its way and no answer came; it may have been taken (RFC 5321, 4.1.1.4: a server owns a
 * message once it has answered the end of its data).
 */
export type Delivery =
  | { readonly kind: 'accepted' }
  | { readonly kind: 'refused' | 'later' | 'unknown'; readonly reason: string };

/** Sends e-mail. Never throws for what a mail server does; an attempt ends within `Mailer.longestMs`. */
export interface Mailer {
  send(mail: Mail): Promise<Delivery>;
  readonly longestMs: number;
}
