import { render } from 'preact';
import type { WaysIn } from '../../api/replies.ts';
import '../look/letters.css';
import '../look/look.css';
import { Mark } from '../parts/mark.tsx';
import { ProblemNote } from '../parts/problem-note.tsx';
import { useReading } from '../wire/use-reading.ts';
import { accessWords } from '../words/access.ts';
import { words } from '../words.ts';
import { ByDemo } from './by-demo.tsx';
import { ByFirst } from './by-first.tsx';
import { ByPassword } from './by-password.tsx';
import { ByPin } from './by-pin.tsx';

/** Every way in that is open from this device, the likeliest first. */
function SignIn() {
  const [ways, again] = useReading<WaysIn>('/v1/sign-ins/ways');
  const first = ways.value?.firstAdministrator ?? false;
  const came = new URLSearchParams(location.search).has('to');
  return (
    <div class="frame">
      <header>
        <span class="shop">
          <Mark /> {words.product}
        </span>
      </header>
      <main id="main" class="floor sign-in">
        <h1>{accessWords.title}</h1>
        {came ? <p class="note">{accessWords.over}</p> : null}
        {ways.state === 'failed' ? <ProblemNote error={ways.error} onRetry={again} /> : null}
        {ways.value?.tablet ? <ByPin tablet={ways.value.tablet} /> : null}
        {first && location.hash !== '' ? <ByFirst /> : null}
        {ways.value && ways.value.demoRoles.length > 0 ? <ByDemo roles={ways.value.demoRoles} /> : null}
        {ways.value ? <ByPassword /> : null}
        {first && location.hash === '' ? <ByFirst /> : null}
        {ways.state === 'loading' && !ways.value ? <p class="quiet">{words.loading}</p> : null}
      </main>
      <footer>{words.product}</footer>
    </div>
  );
}

document.title = `${accessWords.title} · ${words.product}`;
const root = document.getElementById('root');
if (root) render(<SignIn />, root);
