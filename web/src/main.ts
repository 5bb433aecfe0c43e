import { mount } from 'svelte'
import './tokens.css'
import Page from './Page.svelte'

const target = document.getElementById('page')
if (target) mount(Page, { target })
