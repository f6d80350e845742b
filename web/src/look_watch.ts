// For what is drawn by hand on a canvas: tells when light turns to dark, and reads the tokens of the look.

import { paper } from './print_unfolded.svelte';

export function watch_look(changed: () => void): () => void {
  const observer = new MutationObserver(changed);
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ['data-look'] });
  const dark = matchMedia('(prefers-color-scheme: dark)');
  dark.addEventListener('change', changed);
  return () => {
    observer.disconnect();
    dark.removeEventListener('change', changed);
  };
}

const kWhiteOnPaper: ReadonlySet<string> = new Set(['paper', 'card', 'sunk', 'warm-ground']);

/** A colour of app.css, such as token('ink'); on paper that of print.css. */
export function token(name: string): string {
  if (paper.printing) return kWhiteOnPaper.has(name) ? '#fff' : '#000';
  return getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();
}

export function is_dark(): boolean {
  return !paper.printing && getComputedStyle(document.documentElement).colorScheme === 'dark'; // paper is white
}
