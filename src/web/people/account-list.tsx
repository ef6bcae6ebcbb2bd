import { useState } from 'preact/hooks';
import type { PageOf, ShopAccount, Technician } from '../../api/replies.ts';
import { Field } from '../parts/field.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { call, Refusal } from '../wire/api.ts';
import { useAttempt } from '../wire/use-attempt.ts';
import { useReading } from '../wire/use-reading.ts';
import { accessWords } from '../words/access.ts';

const text = accessWords;
const roles = (['desk', 'floor', 'owner'] as const).map((value) => ({ value, label: text.roles[value] }));
const fresh = { name: '', signInName: '', role: 'floor', technicianId: '', password: '', pin: '' };

/** People with their roles; somebody is admitted, shut out and let in again. */
export function AccountList({ shopId }: { shopId: string }) {
  const at = `/v1/shops/${shopId}`;
  const [accounts, again] = useReading<PageOf<ShopAccount>>(`${at}/accounts`);
  const [technicians] = useReading<PageOf<Technician>>(`${at}/technicians?limit=100`);
  const [given, setGiven] = useState(fresh);
  const { error, busy, attempt } = useAttempt();
  const set = (part: Partial<typeof given>) => setGiven((before) => ({ ...before, ...part }));
  const fault = (field: string) =>
    error instanceof Refusal ? error.problem.errors?.find((each) => each.field.endsWith(field))?.message : undefined;
  const people = technicians.value?.items ?? [];
  const nameOf = (id: string | null) => people.find((each) => each.id === id)?.name ?? text.none;
  const add = () =>
    attempt(async () => {
      const body = {
        ...given,
        technicianId: given.technicianId || null,
        password: given.password || null,
        pin: given.pin || null,
      };
      await call(`${at}/accounts`, { method: 'POST', body });
      setGiven(fresh);
      again();
    });
  const shut = (account: ShopAccount) =>
    attempt(async () => {
      const body = { disabled: !account.disabled };
      await call(`${at}/accounts/${account.id}`, { method: 'PATCH', etag: `"${account.version}"`, body });
      again();
    });
  return (
    <section class="panel">
      {accounts.state === 'failed' ? <ProblemNote error={accounts.error} onRetry={again} /> : null}
      <div class="scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">{text.name}</th>
              <th scope="col">{text.signInName}</th>
              <th scope="col">{text.role}</th>
              <th scope="col">{text.technician}</th>
              <th scope="col">{text.enter}</th>
              <td />
            </tr>
          </thead>
          <tbody>
            {(accounts.value?.items ?? []).map((each) => (
              <tr key={each.id}>
                <th scope="row">{each.name}</th>
                <td>{each.signInName}</td>
                <td>{text.roles[each.role]}</td>
                <td>{nameOf(each.technicianId)}</td>
                <td>{each.disabled ? text.isShutOut : text.ways(each.hasPassword, each.hasPin)}</td>
                <td>
                  <button type="button" disabled={busy} onClick={() => shut(each)}>
                    {each.disabled ? text.letIn : text.shutOut}
                    <span class="visually-hidden"> {each.name}</span>
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <form
        aria-labelledby="add"
        onSubmit={(event) => {
          event.preventDefault();
          void add();
        }}
      >
        <h2 id="add">{text.addTitle}</h2>
        <div class="fields">
          <Field
            label={text.name}
            value={given.name}
            onValue={(name) => set({ name })}
            fault={fault('/name')}
            input={{ required: true, autocomplete: 'off' }}
          />
          <Field
            label={text.signInName}
            value={given.signInName}
            onValue={(signInName) => set({ signInName })}
            fault={fault('/signInName') ?? fault('/id')}
            input={{ required: true, minLength: 3, autocomplete: 'off' }}
          />
          <Field label={text.role} value={given.role} onValue={(role) => set({ role })} options={roles} />
          <Field
            label={text.technician}
            value={given.technicianId}
            onValue={(technicianId) => set({ technicianId })}
            options={[{ value: '', label: text.none }, ...people.map(({ id, name }) => ({ value: id, label: name }))]}
          />
          <Field
            label={text.newPassword}
            value={given.password}
            onValue={(password) => set({ password })}
            fault={fault('/password')}
            input={{ type: 'password', autocomplete: 'new-password' }}
          />
          <Field
            label={text.pin}
            value={given.pin}
            onValue={(pin) => set({ pin })}
            fault={fault('/pin')}
            input={{ type: 'password', inputMode: 'numeric', autocomplete: 'off', maxLength: 8 }}
          />
        </div>
        <p>
          <button type="submit" class="main" disabled={busy}>
            {text.add}
          </button>
        </p>
        <ProblemNote error={error} />
      </form>
    </section>
  );
}
