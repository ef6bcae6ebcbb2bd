import type { Recipe, Technician } from '../../api/replies.ts';
import { Field, Tick } from '../parts/field.tsx';
import { bookingWords } from '../words/booking.ts';
import { deskWords } from '../words/desk.ts';
import { asBefore, type BookingDraft, ofClass, vehicleClasses } from './booking-draft.ts';
import { KnownCustomers } from './known-customers.tsx';
import { RepaintFields } from './repaint-fields.tsx';

const text = bookingWords;
const graded = (names: readonly string[]) => names.map((label, value) => ({ value: String(value), label }));

export interface FieldsProps {
  readonly draft: BookingDraft;
  readonly change: (part: Partial<BookingDraft>) => void;
  /** What the server said against a field. */
  readonly fault: (field: string) => string | undefined;
}

/** Who brings which car: the few things asked in every call. */
export function CustomerFields({ draft, change, fault, shopId }: FieldsProps & { shopId: string }) {
  return (
    <fieldset>
      <legend>{text.customer}</legend>
      <div class="fields">
        <Field
          label={text.name}
          value={draft.name}
          onValue={(name) => change({ name })}
          fault={fault('customer/name')}
          input={{ required: true, autoComplete: 'off' }}
        />
        <Field
          label={text.phone}
          value={draft.phone}
          onValue={(phone) => change({ phone })}
          fault={fault('phone')}
          input={{ type: 'tel', autoComplete: 'off' }}
        />
        <Field
          label={text.registration}
          value={draft.registration}
          onValue={(registration) => change({ registration })}
          fault={fault('registration')}
          input={{ autoComplete: 'off' }}
        />
        <Field
          label={text.class}
          value={draft.class}
          onValue={(each) => change(ofClass(each))}
          options={vehicleClasses.map((value) => ({ value, label: text.classes[value] ?? value }))}
        />
        <Field
          label={text.description}
          value={draft.description}
          onValue={(description) => change({ description })}
          fault={fault('description')}
          input={{ autoComplete: 'off' }}
          wide
        />
      </div>
      <KnownCustomers
        shopId={shopId}
        typed={draft.name || draft.registration}
        onPick={(job) => change(asBefore(job))}
      />
    </fieldset>
  );
}

/** What is wanted, and when. */
export function ServiceFields({
  draft,
  change,
  fault,
  recipes,
  recipeId,
}: FieldsProps & { recipes: readonly Recipe[]; recipeId: string }) {
  return (
    <fieldset>
      <legend>{text.service}</legend>
      <div class="fields">
        <Field
          label={text.recipe}
          value={recipeId}
          onValue={(each) => change({ recipeId: each })}
          options={recipes.map((each) => ({ value: each.id, label: each.name }))}
          wide="row"
        />
        <Field
          label={text.earliest}
          value={draft.earliestDay}
          onValue={(earliestDay) => change({ earliestDay })}
          fault={fault('earliestDropOff')}
          input={{ type: 'date', required: true }}
        />
        <Field
          label={text.earliestHour}
          value={draft.earliestTime}
          onValue={(earliestTime) => change({ earliestTime })}
          input={{ type: 'time', required: true }}
        />
        <Field
          label={text.wanted}
          value={draft.wantedDay}
          onValue={(wantedDay) => change({ wantedDay })}
          fault={fault('wantedPickupAt')}
          input={{ type: 'date' }}
        />
        <Field
          label={text.wantedHour}
          value={draft.wantedTime}
          onValue={(wantedTime) => change({ wantedTime })}
          input={{ type: 'time' }}
        />
      </div>
      <fieldset class="ticks">
        <legend>{text.addOns}</legend>
        {Object.entries(text.addOnNames).map(([key, label]) => (
          <Tick
            key={key}
            label={label}
            on={draft.addOns.includes(key)}
            onTick={(on) =>
              change({ addOns: on ? [...draft.addOns, key] : draft.addOns.filter((each) => each !== key) })
            }
          />
        ))}
      </fieldset>
    </fieldset>
  );
}

/** How the car comes in, as the customer says or the desk sees it. */
export function ConditionFields({ draft, change }: FieldsProps) {
  return (
    <fieldset>
      <legend>{text.state}</legend>
      <div class="fields">
        <Field
          label={text.soil}
          value={draft.soil}
          onValue={(soil) => change({ soil })}
          options={graded(text.soilGrades)}
        />
        <Field
          label={text.brakeDust}
          value={draft.brakeDust}
          onValue={(brakeDust) => change({ brakeDust })}
          options={graded(text.soilGrades)}
        />
        <Field
          label={text.defects}
          value={draft.defects}
          onValue={(defects) => change({ defects })}
          options={graded(text.defectGrades)}
          wide
        />
      </div>
      <div class="ticks">
        <Tick label={text.minerals} on={draft.minerals} onTick={(minerals) => change({ minerals })} />
        <Tick label={text.tar} on={draft.tar} onTick={(tar) => change({ tar })} />
      </div>
    </fieldset>
  );
}

/** What is seldom asked on the telephone; ordinary values stand in for it. */
export function CarFields({ draft, change, fault, people }: FieldsProps & { people: readonly Technician[] }) {
  const named = [
    { value: '', label: deskWords.arranged.nobody },
    ...people.map((each) => ({ value: each.id, label: each.name })),
  ];
  const faulty = [
    'lengthMm',
    'heightMm',
    'email',
    'notes',
    'colour',
    'dropOffBy',
    'pickupBy',
    'paintedOn',
    'painterCleared',
  ].some((each) => fault(each) !== undefined);
  return (
    <details open={faulty}>
      <summary>{text.more}</summary>
      <div class="fields">
        <Field
          label={text.colour}
          value={draft.colour}
          onValue={(colour) => change({ colour })}
          fault={fault('colour')}
        />
        <Field
          label={text.length}
          value={draft.lengthMm}
          onValue={(lengthMm) => change({ lengthMm })}
          fault={fault('lengthMm')}
          input={{ inputMode: 'numeric' }}
        />
        <Field
          label={text.height}
          value={draft.heightMm}
          onValue={(heightMm) => change({ heightMm })}
          fault={fault('heightMm')}
          input={{ inputMode: 'numeric' }}
        />
        <Field
          label={text.hardness}
          value={draft.hardness}
          onValue={(hardness) => change({ hardness })}
          options={text.hardnesses}
        />
        <Field
          label={text.email}
          value={draft.email}
          onValue={(email) => change({ email })}
          fault={fault('email')}
          input={{ type: 'email', autoComplete: 'off' }}
        />
        <Field
          label={text.priority}
          value={draft.priority}
          onValue={(priority) => change({ priority })}
          options={text.priorities.map((label, index) => ({ value: String(index + 1), label }))}
        />
        <Field
          label={deskWords.arranged.dropOffBy}
          value={draft.dropOffBy}
          onValue={(dropOffBy) => change({ dropOffBy })}
          fault={fault('dropOffBy')}
          options={named}
        />
        <Field
          label={deskWords.arranged.pickupBy}
          value={draft.pickupBy}
          onValue={(pickupBy) => change({ pickupBy })}
          fault={fault('pickupBy')}
          options={named}
        />
        <Field
          label={text.notes}
          value={draft.notes}
          onValue={(notes) => change({ notes })}
          fault={fault('notes')}
          wide
        />
      </div>
      <RepaintFields draft={draft} change={change} fault={fault} />
    </details>
  );
}
