import { describe, expect, test } from 'vitest';
import type { Desk, DeskAnswer } from '../../../src/shop/booking/desk.ts';
import { createInProcessDesk } from '../../../src/shop/booking/in-process-desk.ts';
import { draftPlan } from '../../../src/shop/planning/draft-plan.ts';
import type { Draft, Drafter } from '../../../src/shop/planning/drafter.ts';
import { createInProcessPlanner } from '../../../src/shop/planning/in-process-planner.ts';
import { warmUp } from '../../../src/shop/planning/warm-up.ts';
import { MONDAY_8 } from '../a-shop.ts';

const log = { info() {}, warn() {}, error() {} };

function threads() {
  const drafts: Draft[] = [];
  const answers: DeskAnswer[] = [];
  const planner = createInProcessPlanner();
  const drafter: Drafter = {
    async draft(book, ask, { seed, timeLimitMs }) {
      const draft = await draftPlan({ planner, log, seed, budget: { timeLimitMs } }, book, ask);
      drafts.push(draft);
      return draft;
    },
  };
  const inProcess = createInProcessDesk(7, () => 0);
  const desk: Desk = {
    async ask(standing, question) {
      const answer = await inProcess.ask(standing, question);
      answers.push(answer);
      return answer;
    },
    openNow: inProcess.openNow,
  };
  return {
    drafts,
    answers,
    deps: {
      drafter,
      desk,
      terms: { seed: 7, timeLimitMs: 60_000 },
      now: MONDAY_8,
      signal: new AbortController().signal,
      log,
    },
  };
}

describe('warming up', () => {
  test('plans the invented book, finds slots in it, and leaves the desk with none of it', async () => {
    const { drafts, answers, deps } = threads();
    const warnings: unknown[] = [];
    const heard = { ...log, warn: (data: object) => void warnings.push(data) };
    await warmUp({ ...deps, log: heard, isAsked: () => false });
    expect(warnings).toEqual([]);
    expect(drafts.length).toBeGreaterThan(3);
    for (const { plan } of drafts) expect(plan.operations.length).toBeGreaterThan(100);
    expect(answers.filter(({ kind }) => kind === 'slots').length).toBeGreaterThan(3);
    expect(answers.at(-1)).toEqual({ kind: 'open' });
  });

  test('ends as soon as somebody asks for something', async () => {
    const { drafts, deps } = threads();
    await warmUp({ ...deps, isAsked: () => drafts.length === 1 });
    expect(drafts).toHaveLength(1);
  });

  test('does nothing in a server that stops, and complains of nothing', async () => {
    const { drafts, answers, deps } = threads();
    const warnings: unknown[] = [];
    const heard = { ...log, warn: (data: object) => void warnings.push(data) };
    await warmUp({ ...deps, log: heard, signal: AbortSignal.abort(), isAsked: () => false });
    expect([drafts, answers, warnings]).toEqual([[], [], []]);
  });
});
