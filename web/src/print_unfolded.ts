// Paper cannot be tapped: what is folded and marked `data-print` is opened for the printer, and folded
// again after it.

export function print_unfolded(): void {
  const folded = [...document.querySelectorAll<HTMLDetailsElement>('details[data-print]:not([open])')];
  for (const one of folded) one.open = true;
  addEventListener('afterprint', () => folded.forEach((one) => (one.open = false)), { once: true });
}
