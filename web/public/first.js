// Runs before the page is drawn. Sets the light or dark look chosen on this device, so that a dark room
// is not lit up by a white page (src/lib/theme.ts), and asks the server for what every page needs while
// the app itself is still being fetched (src/lib/first_answers.ts).
try {
  const look = localStorage.getItem('warmside.look');
  if (look === 'light' || look === 'dark') document.documentElement.dataset.look = look;
} catch {
  // No storage: the system's choice holds.
}
window.first_answers = Object.fromEntries(
  ['/api/session', '/api/round'].map((path) => {
    const answer = fetch(path, { signal: AbortSignal.timeout(15_000) });
    answer.catch(() => {}); // whoever takes it is told
    return [path, answer];
  }),
);
