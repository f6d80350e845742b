// The service worker keeps the app's own files on the phone, so that the app opens without a signal.
// It never touches the API or the outbox. Without a secure context there is none, and a line of the
// page says so.

export type ShellState = 'none' | 'kept' | 'newer';

/** `show` hears when the shell is on the phone, and when a newer one waits for the keeper's word. */
export async function keep_shell(show: (state: ShellState) => void): Promise<void> {
  if (!('serviceWorker' in navigator)) return show('none');
  const registration = await navigator.serviceWorker.register('/sw.js').catch(() => null);
  if (!registration) return show('none');
  const look = () => {
    if (registration.waiting && navigator.serviceWorker.controller) show('newer');
    else if (registration.active) show('kept');
  };
  look();
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', look);
  });
  await navigator.serviceWorker.ready;
  look();
}

/** Lets the newer shell take over and opens it. What waits to be sent is in the store and stays. */
export async function take_newer_shell(): Promise<void> {
  const registration = await navigator.serviceWorker.getRegistration();
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload());
  registration?.waiting?.postMessage({ type: 'SKIP_WAITING' });
}
