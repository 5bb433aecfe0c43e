import { tick } from 'svelte'
import type { Shop } from '../shop.svelte'

/** Goes to the vehicle: at the top of the page, the first card's heading in focus. */
export async function land(shop: Shop): Promise<void> {
  shop.view = 'job'
  await tick()
  window.scrollTo(0, 0)
  document.querySelector<HTMLButtonElement>('#cards .fold')?.focus({ preventScroll: true })
}
