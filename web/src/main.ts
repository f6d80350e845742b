import './app.css';
import './print.css';
import { mount } from 'svelte';
import App from './App.svelte';
import { kPages } from './lib/routes';
// Most openings show the round: it is not fetched in a second step.
import './pages/Round.svelte';
import { app } from './state.svelte';

// The page is fetched while the store is opened.
void kPages[app.place.page].open().catch(() => null);
void app.start();
mount(App, { target: document.getElementById('app')! });
