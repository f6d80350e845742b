// Checks the contrast of the look's colours by WCAG 2.2 (relative luminance, success criteria 1.4.6
// and 1.4.11): text 7:1 on every ground that it stands on, boxes that are tapped 3:1.
import { readFileSync } from 'node:fs';

const css = readFileSync(new URL('../src/app.css', import.meta.url), 'utf8');
const tokens = (block) => Object.fromEntries([...block.matchAll(/--([a-z-]+): (#[0-9a-f]{3,6});/g)].map((m) => [m[1], m[2]]));
const block_of = (head) => css.slice(css.indexOf(head), css.indexOf('}', css.indexOf(head)));
const looks = { light: tokens(block_of(':root {')), dark: tokens(block_of(":root[data-look='dark'] {")) };

function luminance(hex) {
  const full = hex.length === 4 ? [...hex.slice(1)].map((c) => c + c).join('') : hex.slice(1);
  const [r, g, b] = [0, 2, 4].map((i) => {
    const share = parseInt(full.slice(i, i + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
function contrast(a, b) {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
}

const text = ['ink', 'soft', 'warm', 'cool', 'good'];
const pairs = [
  ...text.flatMap((ink) => ['paper', 'card', 'sunk'].map((ground) => [ink, ground, 7])),
  ['warm', 'warm-ground', 7],
  ['on-warm', 'warm', 7],
  ['edge', 'card', 3],
  ['edge', 'paper', 3],
];
let faults = 0;
for (const [look, colour] of Object.entries(looks)) {
  for (const [ink, ground, least] of pairs) {
    const ratio = contrast(colour[ink], colour[ground]);
    if (ratio >= least) continue;
    console.error(`${look}: ${ink} on ${ground} is ${ratio.toFixed(2)}:1, least ${least}:1`);
    ++faults;
  }
}
// The system's dark look is the chosen one, written twice since CSS cannot say "or".
const system_dark = tokens(block_of(":root:not([data-look='light']) {"));
if (JSON.stringify(system_dark) !== JSON.stringify(looks.dark)) {
  console.error('the dark look differs between the system setting and the choice');
  ++faults;
}
console.log(faults === 0 ? 'contrast: all pairs hold' : `contrast: ${faults} faults`);
process.exit(faults === 0 ? 0 : 1);
