import { useEffect, useState } from 'preact/hooks';
import type { Me } from '../../api/replies.ts';

const WHO_KEY = 'panelday.technician';
const BY_KEY = 'panelday.technician-chosen-by';

/**
 * Whose day it is, by the person's id, and the way to say so. Whoever signs in begins with their own day where their account has a person
 * of the plan; what was chosen counts on this device for the account it was chosen under, so that a shared tablet does not go on
 * with the day of whoever was signed in before. Without word of the account what was chosen last counts. Null asks.
 */
export function useWhoWorks(account: Me | null, shopId: string): [string | null, (id: string | null) => void] {
  const [chosen, setChosen] = useState(() => ({
    who: localStorage.getItem(WHO_KEY),
    by: localStorage.getItem(BY_KEY),
  }));
  const [asked, setAsked] = useState(false);
  const by = account?.accountId ?? null;
  const own = account?.shops.find((each) => each.shopId === shopId)?.technicianId ?? null;
  const anothers = by !== null && chosen.by !== null && chosen.by !== by;
  const who = asked ? null : ((anothers ? null : chosen.who) ?? own);
  const choose = (id: string | null) => {
    setAsked(id === null);
    if (id === null) return;
    localStorage.setItem(WHO_KEY, id);
    if (by === null) localStorage.removeItem(BY_KEY);
    else localStorage.setItem(BY_KEY, by);
    setChosen({ who: id, by });
  };
  useEffect(() => {
    // Kept, so that it is known without a connection too.
    if (who !== null && by !== null && chosen.by !== by) choose(who);
  });
  return [who, choose];
}
