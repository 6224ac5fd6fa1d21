import { mount } from 'svelte';
import App from './App.svelte';
import './look/fonts.css';
import './look/tones.css';
import './look/page.css';

const target = document.getElementById('page');
if (target) mount(App, { target });
