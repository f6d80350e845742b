// How the app is built: Svelte to plain files for the server to hand out, a worker that keeps the
// shell (never data) on the phone, and the tests of src/lib.
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [
    svelte(),
    VitePWA({
      // The page asks before a new version takes over (src/lib/shell_worker.ts).
      registerType: 'prompt',
      injectRegister: false,
      workbox: {
        globPatterns: ['**/*.{html,js,css,svg,png,webmanifest}'],
        navigateFallback: 'index.html',
        // These are the server's own pages, never the shell.
        navigateFallbackDenylist: [/^\/api\//, /^\/trust/, /^\/notices/],
        cleanupOutdatedCaches: true,
        // From the first visit on: pages that were not opened yet open without a signal too.
        clientsClaim: true,
      },
      manifest: {
        name: 'Warmside',
        short_name: 'Warmside',
        description: "The animal room's book and today's round.",
        display: 'standalone',
        start_url: '/#/round',
        background_color: '#17130f',
        theme_color: '#17130f',
        icons: [
          { src: 'icon.svg', sizes: 'any', type: 'image/svg+xml' },
          { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: 'icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'any maskable' },
        ],
      },
    }),
  ],
  build: {
    target: 'es2022',
    // A module preload shim would be an inline script; browsers that run the rest need none.
    modulePreload: { polyfill: false },
    // An inlined picture would be a data: address, which the page's rules forbid.
    assetsInlineLimit: 0,
  },
  // The tests read tables of ../docs.
  server: { fs: { allow: ['..'] }, proxy: { '/api': 'http://127.0.0.1:8730', '/trust': 'http://127.0.0.1:8730' } },
  test: { environment: 'happy-dom', include: ['src/**/*.test.ts'], testTimeout: 240_000 },
});
