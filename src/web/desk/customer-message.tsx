import { useState } from 'preact/hooks';
import type { MessageSentReply, MessagesReply, Shop } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { dayAndTime } from '../time/format.ts';
import { call } from '../wire/api.ts';
import { useAttempt } from '../wire/use-attempt.ts';
import { useReading } from '../wire/use-reading.ts';
import { deskWords } from '../words/desk.ts';
import { jobWords } from '../words/job.ts';
import { words } from '../words.ts';

const text = deskWords.message;

/** A text for the customer to read over, copy, or mail, and the link to the customer's own page. */
export function CustomerMessage({ shop, jobId }: { shop: Shop; jobId: string }) {
  const at = `/v1/shops/${shop.id}/jobs/${jobId}/messages`;
  const [read, again] = useReading<MessagesReply>(at);
  const [picked, setPicked] = useState('');
  const [said, setSaid] = useState('');
  const { error, attempt } = useAttempt();
  const messages = read.value;
  if (messages === null)
    return read.state === 'failed' ? (
      <ProblemNote error={read.error} onRetry={again} />
    ) : (
      <p class="quiet">{words.loading}</p>
    );
  const fitting = messages.items.filter((each) => each.applies);
  const line = messages.items.find((each) => each.kind === picked) ?? fitting[0] ?? messages.items[0];
  if (line === undefined) return null;
  const act = (saying: string, work: () => Promise<unknown>) => () => {
    setSaid('');
    return attempt(async () => {
      await work();
      setSaid(saying);
    });
  };
  const send = act(text.queued, async () => {
    await call<MessageSentReply>(`${at}/${line.kind}/send`, {
      method: 'POST',
      body: { again: line.state !== 'notSent' },
    });
    again();
  });
  const { url } = messages.link;
  return (
    <>
      <Field
        label={text.about}
        value={line.kind}
        onValue={(kind) => {
          setPicked(kind);
          setSaid('');
        }}
        options={messages.items.map(({ kind, name, applies }) => ({
          value: kind,
          label: applies ? name : text.doesNotFit(name),
        }))}
      />
      <textarea aria-label={jobWords.message.title} rows={9} readOnly value={`${line.subject}\n\n${line.text}`} />
      <div class="bar">
        <button type="button" onClick={act(text.copied, () => navigator.clipboard.writeText(line.text))}>
          {text.copy}
        </button>
        {messages.mail.on && line.applies ? (
          <button type="button" onClick={send}>
            {line.state === 'notSent' ? text.send : text.sendAgain}
          </button>
        ) : null}
        {url ? (
          <button type="button" onClick={act(text.linkCopied, () => navigator.clipboard.writeText(url))}>
            {text.copyLink}
          </button>
        ) : null}
        <span role="status">{said}</span>
      </div>
      <p class="quiet">
        {text.states[line.state]}
        {line.changedAt && line.state !== 'notSent' ? ` ${dayAndTime(shop.timeZone, line.changedAt)}` : ''}
        {line.fault === '' ? '' : `: ${line.fault}`}
        {messages.mail.on ? '' : ` ${messages.mail.reason}`}
      </p>
      <ProblemNote error={error} />
    </>
  );
}
