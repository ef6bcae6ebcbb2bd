import type { QueueItem, Shop, Technician } from '../../api/replies.ts';
import { Plate } from '../parts/plate.tsx';
import { clockTime } from '../time/format.ts';
import { floorWords } from '../words/floor.ts';
import { words } from '../words.ts';
import { Elapsed } from './elapsed.tsx';
import { Inspect } from './inspect.tsx';
import { PanelTicks } from './panel-ticks.tsx';
import { TaskActs } from './task-acts.tsx';
import { Cautions, ProductAndLimits, Steps } from './to-know.tsx';
import { WindowClock } from './window-clock.tsx';

/** Work that goes round the car panel by panel. */
const byPanel = new Set([
  'clay',
  'compound',
  'filmCheck',
  'finishPolish',
  'panelWipe',
  'coatLayer',
  'abrade',
  'lampCure',
  'finalInspection',
  'contactWash',
  'maintenanceWash',
]);

interface TaskCardProps {
  readonly shop: Shop;
  readonly me: string;
  readonly item: QueueItem;
  readonly people: readonly Technician[];
  readonly alarms: boolean;
  readonly onDone: () => void;
  readonly onLeft: () => void;
}

/** One operation for gloved hands: what, where, when, which window, what can hurt, and the few things that can be done to it. */
export function TaskCard({ shop, me, item, people, alarms, onDone, onLeft }: TaskCardProps) {
  const { planned } = item;
  const zone = shop.timeZone;
  const heading = `task-${item.jobId}-${item.operation}`;
  const stateWord = planned.state === 'planned' ? floorWords.stateOf[item.when] : words.doing[planned.state];
  return (
    <article class={`task ${item.when}`} aria-labelledby={heading}>
      <div class="when">
        <span class={`mark ${planned.state === 'paused' ? 'soon' : ''}`}>{stateWord}</span>
        <span>
          {clockTime(zone, planned.start)}–{clockTime(zone, planned.end)}
        </span>
        <span>{item.placeName}</span>
        {planned.remedy ? <span class="mark soon">{words.remedy}</span> : null}
      </div>
      <h2 id={heading}>{planned.label}</h2>
      <div class="car">
        {item.registration ? <Plate text={item.registration} /> : null}
        <span>{item.look}</span>
      </div>
      <Elapsed planned={planned} />
      {item.windowClosesAt && planned.state === 'planned' ? (
        <WindowClock closesAt={item.windowClosesAt} zone={zone} />
      ) : null}
      <TaskActs shopId={shop.id} me={me} item={item} people={people} onDone={onDone} onLeft={onLeft} />
      <div class="two">
        <div>
          {planned.kind === 'cleanPaintInspection' && planned.state !== 'planned' ? (
            <Inspect shop={shop} jobId={item.jobId} onDone={onDone} />
          ) : null}
          <Cautions item={item} />
          <ProductAndLimits item={item} />
          <Steps item={item} alarms={alarms} />
        </div>
        {byPanel.has(planned.kind) ? (
          <div>
            <h3>{floorWords.panels}</h3>
            <PanelTicks jobId={item.jobId} operation={item.operation} />
          </div>
        ) : null}
      </div>
    </article>
  );
}
