import './app.css';
import './print.css';
import { mount } from 'svelte';
import App from './App.svelte';
import { app } from './state.svelte';

mount(App, { target: document.getElementById('app')! });
void app.start();
