// Sets the light or dark look chosen on this device before the page is drawn (src/lib/theme.ts).
try {
  const look = localStorage.getItem('warmside.look');
  if (look === 'light' || look === 'dark') document.documentElement.dataset.look = look;
} catch {
  // No storage: the system's choice holds.
}
