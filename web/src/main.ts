import './app.css';
import './print.css';
import { mount } from 'svelte';
import App from './App.svelte';
import { kPages } from './lib/routes';
import { app } from './state.svelte';

// The page is fetched while the store is opened and the server asked.
void kPages[app.place.page].open().catch(() => null);
mount(App, { target: document.getElementById('app')! });
void app.start();
