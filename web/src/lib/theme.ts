// Light or dark: the system's choice, or the keeper's for this device. public/first.js applies it
// before the page is drawn.

export const kLooks = ['auto', 'light', 'dark'] as const;
export type Look = (typeof kLooks)[number];

const kKey = 'warmside.look';

export function chosen_look(): Look {
  try {
    const kept = localStorage.getItem(kKey);
    return kLooks.find((look) => look === kept) ?? 'auto';
  } catch {
    return 'auto';
  }
}

export function choose_look(look: Look): void {
  if (look === 'auto') delete document.documentElement.dataset['look'];
  else document.documentElement.dataset['look'] = look;
  try {
    localStorage.setItem(kKey, look);
  } catch {
    // No storage: it holds until the page is closed.
  }
}
