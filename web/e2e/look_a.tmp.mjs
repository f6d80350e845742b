import { open_browser, open_page, open_server, shot, axe, tight_spots, kPhone, kNarrow, kDesk } from './harness.mjs';
const browser = await open_browser();
const server = await open_server();
const places = process.argv[2] ? process.argv[2].split(',') : ['animals','animal/juniper','animal/garnet','enclosure/skink-table','enclosure/rack-b-2','room'];
const sizes = { phone: kPhone, desk: kDesk, narrow: kNarrow };
for (const size of (process.argv[3] ?? 'phone,desk').split(',')) for (const colorScheme of (process.argv[4] ?? 'light,dark').split(',')) {
  const page = await open_page(browser, server, { ...sizes[size], colorScheme });
  for (const place of places) {
    await page.goto(`${server.url}/#/${place}`);
    await page.waitForSelector('h1');
    await page.waitForTimeout(1200);
    if (process.argv[5] === 'open') { await page.evaluate(() => document.querySelectorAll('main details').forEach((d) => (d.open = true))); await page.waitForTimeout(400); await page.evaluate(() => document.querySelectorAll('main details').forEach((d) => (d.open = true))); await page.waitForTimeout(300);}
    const name = `${place.replace('/', '-')}-${size}-${colorScheme}`;
    await shot(page, name, true);
    const a = await axe(page); const t = await tight_spots(page);
    console.log(name, a.join('\n   '), t.join(' | '), page.errors.join('; '));
  }
  await page.context().close();
}
await browser.close(); server.close(); process.exit(0);
