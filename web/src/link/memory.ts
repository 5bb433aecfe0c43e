// What this browser remembers: how the page is shown, and which cards are ticked off.
// Nothing of the vehicle is kept here; where the browser forbids it, nothing is remembered.

export function recall(key: string): string | null {
  try {
    return window.localStorage.getItem(`leverwright ${key}`)
  } catch {
    return null
  }
}

export function remember(key: string, value: string): void {
  try {
    window.localStorage.setItem(`leverwright ${key}`, value)
  } catch {
    // A browser that keeps nothing still shows everything.
  }
}
