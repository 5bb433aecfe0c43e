// What this browser remembers: how the page is shown, and which cards are ticked off.
// Where the browser forbids it, nothing is remembered. Unsaved work: see drafts.ts.

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

export function forget(key: string): void {
  try {
    window.localStorage.removeItem(`leverwright ${key}`)
  } catch {
    // Nothing was remembered either.
  }
}
