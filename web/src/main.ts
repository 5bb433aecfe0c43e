import { mount } from 'svelte'
import './tokens.css'
import './base.css'
import Page from './Page.svelte'
import { Shop } from './shop.svelte'

const target = document.getElementById('page')
const shop = new Shop()
shop.start()
if (target) mount(Page, { target, props: { shop } })
