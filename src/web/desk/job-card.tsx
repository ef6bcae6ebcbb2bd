import type { JobView, Place, Recipe, Shop, Technician } from '../../api/replies.ts';
import { clockTime, dayAndTime, localDateOf, shortDay } from '../time/format.ts';
import { bookingWords } from '../words/booking.ts';
import { deskWords } from '../words/desk.ts';
import { words } from '../words.ts';
import { joinRests } from './join-rests.ts';

const text = deskWords.card;

interface JobCardProps {
  readonly shop: Shop;
  readonly view: JobView;
  readonly recipe: Recipe | undefined;
  readonly places: readonly Place[];
  readonly people: readonly Technician[];
}

/** The card that goes with the car: on paper only. Its code opens the job on the floor's tablet. */
export function JobCard({ shop, view, recipe, places, people }: JobCardProps) {
  const { job, operations } = view;
  const zone = shop.timeZone;
  const place = (id: string | null) => places.find((each) => each.id === id)?.name.split(',')[0] ?? '';
  const crew = (ids: readonly string[]) =>
    ids.map((id) => people.find((each) => each.id === id)?.name ?? id).join(', ');
  const ordered = joinRests(operations).sort((a, b) => Date.parse(a.start) - Date.parse(b.start));
  return (
    <article class="job-card" aria-hidden="true">
      <header>
        <div>
          <p class="plate-large">{job.vehicle.registration || job.customer.name}</p>
          <p>{[job.vehicle.description, job.vehicle.colour].filter(Boolean).join(' · ')}</p>
          <p>{[job.customer.name, job.customer.phone].filter(Boolean).join(' · ')}</p>
          <p>
            {recipe?.name ?? job.recipeId}
            {job.addOns.map((each) => ` + ${bookingWords.addOnNames[each]}`).join('')}
          </p>
          <p>
            {words.promises.promised}: <strong>{job.promise ? dayAndTime(zone, job.promise.pickupAt) : '–'}</strong>
          </p>
        </div>
        <figure>
          <img src={`/v1/shops/${shop.id}/jobs/${job.id}/qr.svg?screen=floor`} alt={text.scan} />
          <figcaption>{text.scan}</figcaption>
        </figure>
      </header>
      <table>
        <tbody>
          {ordered.map((each, index) => {
            const day = localDateOf(zone, each.start);
            const turns = index === 0 || localDateOf(zone, ordered[index - 1]?.start ?? '') !== day;
            return (
              <tr key={each.operation}>
                <td>{turns ? shortDay(day) : ''}</td>
                <td>
                  {clockTime(zone, each.start)}–
                  {localDateOf(zone, each.end) === day ? clockTime(zone, each.end) : dayAndTime(zone, each.end)}
                </td>
                <td>{each.label}</td>
                <td>{place(each.placeId)}</td>
                <td>{crew(each.people)}</td>
                <td class="box">{each.state === 'finished' ? '✓' : '☐'}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p>{job.notes}</p>
      <p class="quiet">{words.invented}</p>
    </article>
  );
}
