// The socket to the program: asks are answered in order, of tries only the latest counts.
import type { DiskEvent, Reply } from '../wire'
import type { Op } from '../ops'

export type Ask =
  | { readonly do: 'open' | 'undo' | 'redo' | 'remedies' }
  | { readonly do: 'replace'; readonly text: string }
  | { readonly do: 'edit'; readonly ops: readonly Op[] }

export interface Trial {
  readonly ops?: readonly Op[]
  readonly text?: string
  readonly modes: readonly string[]
}

export interface Listener {
  readonly live: () => void
  readonly lost: () => void
  readonly tried: (reply: Reply) => void
  readonly diskChanged: (event: DiskEvent) => void
}

/** Waits between attempts to reach the program again, ms; the last repeats. */
const WAITS = [400, 1000, 2500, 5000]

export class Live {
  #socket: WebSocket | null = null
  #nextId = 1
  #asked = new Map<number, (reply: Reply | null) => void>()
  #trying = 0 // id of the try that is under way, 0 when none is
  #answered = 0 // id of the last try answered: its whole answer follows the quick one when the hand rests
  #waiting: Trial | null = null
  #attempt = 0
  readonly #listener: Listener

  constructor(listener: Listener) {
    this.#listener = listener
  }

  connect(): void {
    const address = new URL('/api/live', window.location.href)
    address.protocol = address.protocol === 'https:' ? 'wss:' : 'ws:'
    const socket = new WebSocket(address)
    this.#socket = socket
    socket.onopen = () => {
      this.#attempt = 0
      this.#listener.live()
    }
    socket.onmessage = (message: MessageEvent<string>) => this.#hear(message.data)
    socket.onclose = () => this.#close()
  }

  /** The program's answer; null when the line broke before it came. */
  ask(what: Ask): Promise<Reply | null> {
    if (what.do !== 'remedies') this.#forgetTries()
    const id = this.#send(what)
    return id === 0 ? Promise.resolve(null) : new Promise((done) => this.#asked.set(id, done))
  }

  /** Shows what the ops would do; a later call takes the place of one not yet sent. */
  try(trial: Trial): void {
    this.#answered = 0
    if (this.#trying) this.#waiting = trial
    else this.#trying = this.#send({ do: 'try', ...trial })
  }

  /** Answers of tries sent so far are no longer wanted. */
  #forgetTries(): void {
    this.#trying = 0
    this.#answered = 0
    this.#waiting = null
  }

  stopTrying(): void {
    this.#forgetTries()
  }

  #send(what: object): number {
    if (this.#socket?.readyState !== WebSocket.OPEN) return 0
    const id = this.#nextId
    this.#nextId += 1
    this.#socket.send(JSON.stringify({ id, ...what }))
    return id
  }

  #hear(data: string): void {
    const reply = JSON.parse(data) as Reply | DiskEvent
    if ('event' in reply) {
      this.#listener.diskChanged(reply)
      return
    }
    const done = this.#asked.get(reply.id)
    if (done) {
      this.#asked.delete(reply.id)
      done(reply)
    } else if (reply.id === this.#trying) {
      const next = this.#waiting
      this.#waiting = null
      this.#answered = next ? 0 : reply.id
      this.#trying = next ? this.#send({ do: 'try', ...next }) : 0
      this.#listener.tried(reply)
    } else if (reply.id === this.#answered) {
      this.#listener.tried(reply)
    }
  }

  #close(): void {
    this.#socket = null
    this.#forgetTries()
    for (const done of this.#asked.values()) done(null)
    this.#asked.clear()
    this.#listener.lost()
    const wait = WAITS[Math.min(this.#attempt, WAITS.length - 1)]
    this.#attempt += 1
    window.setTimeout(() => this.connect(), wait)
  }
}
