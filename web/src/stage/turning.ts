import type { View } from '../geometry/view'

/** A turn from one straight view to another takes so long, ms: enough for the eye to follow. */
const TURN_TIME = 280

/** Calls `show` with the views between two, then with null; at once where motion is not wanted. */
export function turnTo(from: View, to: View, show: (view: View | null) => void): void {
  if (window.matchMedia('(prefers-reduced-motion: reduce)').matches) {
    show(null)
    return
  }
  const begun = performance.now()
  const frame = (now: number): void => {
    const part = Math.min(1, Math.max(0, (now - begun) / TURN_TIME))
    if (part >= 1) {
      show(null)
      return
    }
    const ease = part * part * (3 - 2 * part)
    show({ yaw: from.yaw + (to.yaw - from.yaw) * ease, pitch: from.pitch + (to.pitch - from.pitch) * ease })
    window.requestAnimationFrame(frame)
  }
  show(from)
  window.requestAnimationFrame(frame)
}
