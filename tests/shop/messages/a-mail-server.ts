import type { AddressInfo } from 'node:net';
import { createServer, type Server, type Socket } from 'node:net';
import { type ParsedMail, simpleParser } from 'mailparser';
import { SMTPServer, type SMTPServerOptions } from 'smtp-server';

export interface MailServer {
  readonly url: string;
  /** What was delivered. */
  readonly mails: ParsedMail[];
  close(): Promise<void>;
}

/** A mail server of its own on this machine. */
export async function mailServer(options: SMTPServerOptions = {}): Promise<MailServer> {
  const mails: ParsedMail[] = [];
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onData(stream, _session, done) {
      simpleParser(stream).then((mail) => {
        mails.push(mail);
        done();
      }, done);
    },
    ...options,
  });
  server.on('error', () => {});
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.server.address() as AddressInfo;
  return {
    url: `smtp://127.0.0.1:${port}`,
    mails,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}

export type Breaking = 'atOnce' | 'afterEhlo' | 'atMail' | 'inText' | 'afterText' | 'silentAfterText';

/** A server that speaks SMTP (RFC 5321) until a point and then breaks the line, or says nothing any more. */
export async function breakingServer(point: Breaking): Promise<{ url: string; close(): Promise<void> }> {
  const open = new Set<Socket>();
  const server: Server = createServer((socket) => {
    open.add(socket);
    socket.on('close', () => open.delete(socket));
    socket.on('error', () => {});
    if (point === 'atOnce') return socket.destroy();
    socket.write('220 breaking.invalid ESMTP\r\n');
    let inText = false;
    let heard = '';
    socket.on('data', (chunk) => {
      heard += chunk.toString('latin1');
      if (inText) {
        if (point === 'inText') return socket.destroy();
        if (heard.endsWith('\r\n.\r\n') && point === 'afterText') socket.destroy();
        return;
      }
      for (let end = heard.indexOf('\r\n'); end !== -1; end = heard.indexOf('\r\n')) {
        const line = heard.slice(0, end);
        heard = heard.slice(end + 2);
        if (/^EHLO/i.test(line)) {
          if (point === 'afterEhlo') return socket.destroy();
          socket.write('250 breaking.invalid\r\n');
        } else if (/^MAIL/i.test(line)) {
          if (point === 'atMail') return socket.destroy();
          socket.write('250 ok\r\n');
        } else if (/^RCPT/i.test(line)) socket.write('250 ok\r\n');
        else if (/^DATA/i.test(line)) {
          inText = true;
          socket.write('354 go on\r\n');
        }
      }
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return {
    url: `smtp://127.0.0.1:${port}`,
    close: () => {
      for (const socket of open) socket.destroy();
      return new Promise((resolve) => server.close(() => resolve()));
    },
  };
}
