// A button that was pressed may be gone once the page has changed; whoever works by keyboard or by ear
// must then stand beside it, not at the top of the page.

import { tick } from 'svelte';

/** After the page has changed: if the focus is lost, puts it on the task's button, else its stop. */
export async function keep_focus(stop_key: string, task_key: string): Promise<void> {
  await tick();
  if (document.activeElement !== document.body) return;
  const stop = document.getElementById(`stop-${stop_key}`);
  const row = stop?.querySelector<HTMLElement>(`[data-task="${CSS.escape(task_key)}"] button`);
  const there = row?.checkVisibility() ? row : stop?.querySelector<HTMLElement>('summary, h3');
  there?.focus({ preventScroll: true });
}
