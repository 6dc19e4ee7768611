import type { Problem } from '../base/result.ts';
import type { Plan } from '../plan/records.ts';
import { demoPlan } from './demo-plan.ts';
import type { Pictures } from './pictures.ts';

/** Fetches the painted picture of the demo site and opens the demo plan on it; without it, the plan alone. */
export async function openDemo(
  pictures: Pick<Pictures, 'add'>,
  fetchPicture: () => Promise<Blob> = fetchDemoPicture,
): Promise<{ readonly plan: Plan; readonly problems: readonly Problem[] }> {
  try {
    const added = await pictures.add(await fetchPicture(), 'site.png');
    if (added.ok) return { plan: demoPlan(added.value.pictureId), problems: [] };
    return { plan: { ...demoPlan(''), photo: null }, problems: [added.problem] };
  } catch (error) {
    const problem: Problem = {
      where: 'demo/site.png',
      what: `The demo's picture could not be fetched. ${error instanceof Error ? error.message : String(error)}`,
      todo: 'The demo plan is open without it. Reload the page to try again.',
    };
    return { plan: { ...demoPlan(''), photo: null }, problems: [problem] };
  }
}

async function fetchDemoPicture(): Promise<Blob> {
  const answer = await fetch(`${import.meta.env.BASE_URL}demo/site.png`);
  if (!answer.ok) throw new Error(`The server answered ${answer.status}.`);
  return answer.blob();
}
