// Paper cannot be tapped: what is folded and marked `data-print` is opened for the printer, and folded
// again after it. What draws its inside only while it is open draws it while `paper.printing` too.
import { flushSync } from 'svelte';

export const paper = $state({ printing: false });

export function print_unfolded(): void {
  paper.printing = true;
  flushSync(); // the printer does not wait
  const folded = [...document.querySelectorAll<HTMLDetailsElement>('details[data-print]:not([open])')];
  for (const one of folded) one.open = true;
  const after = () => {
    paper.printing = false;
    for (const one of folded) one.open = false;
  };
  addEventListener('afterprint', after, { once: true });
}
